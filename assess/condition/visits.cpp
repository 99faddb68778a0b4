#include "assess/condition/visits.hpp"

#include <algorithm>
#include <cstdlib>

#include "assess/condition/condition_findings.hpp"

namespace linewood {
namespace {

/// Undated, then by date, then those whose date cannot be read.
bool older(const Inspection& a, const Inspection& b) {
    if (a.date_unreadable != b.date_unreadable) {
        return b.date_unreadable;
    }
    return a.inspected_on < b.inspected_on;
}

void note(const FindingKind& kind, const Defect& defect, Findings* findings) {
    if (findings != nullptr) {
        findings->push_back(
            make_finding(kind,
                         InputLayer::defects,
                         defect.fid,
                         "inspected_on",
                         defect.inspected_on ? defect.inspected_on->to_string() : std::string{}));
    }
}

/// The visits a defect of date `on` joins: all of that date, else the one nearest within the limit
/// together with the others of its day.
std::optional<Date> date_to_join(const std::vector<Visit>& visits, Date on, int join_days) {
    std::optional<Date> best;
    for (const Visit& v : visits) {
        if (!v.inspection.inspected_on) {
            continue;
        }
        const Date date = *v.inspection.inspected_on;
        const int days = std::abs(date.days() - on.days());
        const int best_days = best ? std::abs(best->days() - on.days()) : join_days + 1;
        if (days < best_days || (days == best_days && best && date > *best)) {
            best = date;
        }
    }
    return best;
}

void join_date(std::vector<Visit>& visits, std::optional<Date> date, std::size_t defect) {
    for (Visit& v : visits) {
        if (v.inspection.inspected_on == date) {
            v.defects.push_back(defect);
        }
    }
}

/// @return whether there is any.
bool join_unreadable(std::vector<Visit>& visits, std::size_t defect) {
    bool any = false;
    for (Visit& v : visits) {
        if (v.inspection.date_unreadable) {
            v.defects.push_back(defect);
            any = true;
        }
    }
    return any;
}

void add_visit(std::vector<Visit>& visits, std::optional<Date> date, std::size_t defect) {
    Visit own;
    own.inspection.inspected_on = date;
    own.defects.push_back(defect);
    visits.push_back(std::move(own));
}

bool newer_than_all(const std::vector<Visit>& visits, Date date) {
    return std::none_of(visits.begin(), visits.end(), [&](const Visit& v) {
        return v.inspection.inspected_on && *v.inspection.inspected_on >= date;
    });
}

/// Positions of the dated defects, oldest first, so that the order of the layer does not matter.
std::vector<std::size_t> dated_in_order(std::span<const Defect> defects) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < defects.size(); ++i) {
        if (defects[i].inspected_on) {
            order.push_back(i);
        }
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return *defects[a].inspected_on < *defects[b].inspected_on;
    });
    return order;
}

}  // namespace

std::vector<Visit> join_visits(std::span<const Inspection> inspections,
                               std::span<const Defect> defects,
                               int join_days,
                               Findings* findings) {
    std::vector<Visit> visits;
    visits.reserve(inspections.size());
    for (const Inspection& i : inspections) {
        visits.push_back({i, {}});
    }
    for (const std::size_t i : dated_in_order(defects)) {
        const Date date = *defects[i].inspected_on;
        const auto joined = date_to_join(visits, date, join_days);
        const bool may_be_of_another = joined != date && join_unreadable(visits, i);
        if (joined) {
            join_date(visits, joined, i);
        } else if (newer_than_all(visits, date)) {
            note(finding::kVisitMade, defects[i], findings);
            add_visit(visits, date, i);
        } else if (!may_be_of_another) {
            note(finding::kDefectUnjoined, defects[i], findings);
        }
    }
    std::stable_sort(visits.begin(), visits.end(), [](const Visit& a, const Visit& b) {
        return older(a.inspection, b.inspection);
    });
    for (std::size_t i = 0; i < defects.size(); ++i) {
        if (defects[i].inspected_on) {
            continue;
        }
        if (visits.empty()) {
            note(finding::kVisitMade, defects[i], findings);
            add_visit(visits, std::nullopt, i);
        } else {
            for (std::size_t v = first_of_latest(visits); v < visits.size(); ++v) {
                visits[v].defects.push_back(i);
            }
        }
    }
    return visits;
}

std::size_t first_of_latest(std::span<const Visit> visits) {
    std::size_t begin = visits.size();
    while (begin > 0 && visits[begin - 1].inspection.date_unreadable) {
        --begin;
    }
    if (begin == 0) {
        return 0;
    }
    const auto last = visits[begin - 1].inspection.inspected_on;
    if (!last && begin < visits.size()) {
        return begin;
    }
    while (begin > 0 && visits[begin - 1].inspection.inspected_on == last) {
        --begin;
    }
    return begin;
}

}  // namespace linewood
