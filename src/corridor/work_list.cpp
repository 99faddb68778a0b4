#include "src/corridor/work_list.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include <fmt/format.h>

#include "geo/corridor/job_risk.hpp"
#include "geo/io/short_names.hpp"
#include "src/job/job_error.hpp"
#include "src/pipeline/input_findings.hpp"

namespace linewood {
namespace {

bool has_code(std::string_view codes, std::string_view code) {
    for (;;) {
        const std::size_t end = codes.find(';');
        if (codes.substr(0, end) == code) {
            return true;
        }
        if (end == std::string_view::npos) {
            return false;
        }
        codes.remove_prefix(end + 1);
    }
}

std::string lower(std::string_view text) {
    std::string out{text};
    for (char& c : out) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return out;
}

/// What stands in a column, worked out once for each different text.
template <typename Value, typename Make>
std::vector<Value> by_text(const TextColumn* column, Make make) {
    std::vector<Value> values;
    if (column != nullptr) {
        for (const std::string& text : column->values()) {
            values.push_back(make(text));
        }
    }
    return values;
}

class WorkLister {
public:
    WorkLister(const LineModel& line, const CostsFile& costs, double limit_pct, Findings& findings)
        : line_{line},
          findings_{findings},
          costs_{costs},
          limit_pct_{limit_pct},
          access_{line.data().poles, costs.access_field},
          reasons_{line.data().poles, "reasons"},
          consequence_{line.data().poles, costs.consequence_field} {
        list_.used.resize(costs.costs.prices.size());
        // As a char each: a vector of bool has no elements to point at.
        is_treated_ = by_text<char>(reasons_.column(), [](const std::string& text) {
            return static_cast<char>(has_code(text, "treated") ? 1 : 0);
        });
        consequences_ = by_text<std::optional<double>>(
            consequence_.column(), [](const std::string& text) { return read_consequence(text); });
        refuse_texts();
    }

    WorkList list() {
        const AssessedPoles& poles = line_.data().poles;
        for (std::uint32_t pole = 0; pole < poles.size(); ++pole) {
            const Verdict verdict = poles.verdicts[pole];
            const bool job = verdict == Verdict::replace || verdict == Verdict::stub;
            if (!job && verdict != Verdict::treat) {
                continue;
            }
            if (!line_.counts(pole)) {
                list_.repeated.push_back(pole);
            } else if (job) {
                add_job(pole);
            } else if (!is_treated_.empty() && is_treated_[reasons_.column()->code(pole)] != 0) {
                ++list_.treated;
            } else {
                list_.treat.push_back(pole);
            }
        }
        return std::move(list_);
    }

private:
    /// A column of words is another one than was meant: nothing is taken in its place.
    void refuse_texts() const {
        const auto any = std::find_if(
            consequences_.begin(), consequences_.end(), [](const auto& v) { return v; });
        if (consequences_.size() > 1 && any == consequences_.end()) {
            const auto& values = consequence_.column()->values();
            throw JobError{fmt::format(
                "risk.consequence.field {} of the costs holds no number and no yes or no, only "
                "texts such as \"{}\"; name a field of numbers (customers) or of yes and no",
                costs_.consequence_field,
                *std::min_element(values.begin() + 1, values.end()))};
        }
    }

    void add_job(std::uint32_t pole) {
        const AssessedPoles& poles = line_.data().poles;
        Job job;
        job.pole = pole;
        job.verdict = poles.verdicts[pole];
        job.now = poles.urgencies[pole] == Urgency::now;
        const JobPrice* price = price_of(
            costs_.costs, {name_of(job.verdict), poles.classes.text(pole), access_.of(pole)});
        list_.price_row.push_back(kNone);
        if (price != nullptr) {
            job.cost = Money::units(price->cost);
            job.crew_days = price->crew_days;
            const auto row = static_cast<std::uint32_t>(price - costs_.costs.prices.data());
            list_.price_row.back() = row;
            ++list_.used[row];
        }
        std::optional<double> strength;
        if (poles.has_strength(pole)) {
            strength = poles.remaining_pct[pole];
        } else {
            ++list_.without_strength;
        }
        job.risk = job_risk(
            costs_.risk, poles.urgencies[pole], strength, limit_pct_, consequence_of(pole));
        list_.jobs.push_back(job);
    }

    std::optional<double> consequence_of(std::uint32_t pole) {
        if (consequence_.column() == nullptr) {
            return std::nullopt;
        }
        const auto value = consequences_[consequence_.column()->code(pole)];
        const std::string_view text = consequence_.of(pole);
        if (!value && text.empty()) {
            ++list_.without_consequence;
        } else if (!value) {
            if (list_.unread_consequence == 0 || text < list_.unread_example) {
                list_.unread_example = text;
            }
            ++list_.unread_consequence;
            findings_.push_back(make_finding(finding::kValueUnreadable,
                                             InputLayer::poles,
                                             pole,
                                             costs_.consequence_field,
                                             std::string{text}));
            findings_.back().feature = line_.pole_id(pole);
            if (const auto place = line_.data().layer_point(pole)) {
                findings_.back().place = Place{place->x, place->y};
            }
        }
        return value;
    }

    const LineModel& line_;
    Findings& findings_;
    const CostsFile& costs_;
    double limit_pct_;
    PoleTexts access_;
    PoleTexts reasons_;
    PoleTexts consequence_;
    std::vector<char> is_treated_;
    std::vector<std::optional<double>> consequences_;
    WorkList list_;
};

}  // namespace

std::vector<std::string> work_attributes(const Source& source, const ProjectsJob& job) {
    std::vector<std::string> wanted;
    const auto want = [&](const std::string& name) {
        if (std::find(wanted.begin(), wanted.end(), name) == wanted.end()) {
            wanted.push_back(name);
        }
    };
    const LayerSchema& schema = source.schema("poles");
    for (const std::string name : {"reasons", "line_deflection"}) {
        // Of nearly as many different texts as there are poles: only where the sheets show it.
        if (name == "line_deflection" && job.sheets.empty()) {
            continue;
        }
        const std::string shown{own_short_name(name)};
        for (const std::string& known : {name, shown}) {
            if (!known.empty() && schema.field_index(known)) {
                want(known);
                break;
            }
        }
    }
    for (const std::string& name :
         {job.costs.access_field, job.costs.consequence_field, job.mark_field}) {
        if (!name.empty()) {
            want(name);
        }
    }
    return wanted;
}

PoleTexts::PoleTexts(const AssessedPoles& poles, std::string_view column) {
    if (column.empty()) {
        return;
    }
    for (const auto& [name, texts] : poles.attributes) {
        if (name == column || (!own_short_name(column).empty() && name == own_short_name(column))) {
            column_ = &texts;
            return;
        }
    }
}

WorkList list_work(const LineModel& line,
                   const CostsFile& costs,
                   double limit_pct,
                   Findings& findings) {
    return WorkLister{line, costs, limit_pct, findings}.list();
}

std::optional<double> read_consequence(std::string_view text) {
    const std::string word = lower(text);
    for (const std::string_view yes : {"true", "yes", "t", "y"}) {
        if (word == yes) {
            return 1.0;
        }
    }
    for (const std::string_view no : {"false", "no", "f", "n"}) {
        if (word == no) {
            return 0.0;
        }
    }
    if (word.empty() || word.find_first_not_of("0123456789+-.e") != std::string::npos) {
        return std::nullopt;
    }
    char* end = nullptr;
    const double value = std::strtod(word.c_str(), &end);
    if (end != word.c_str() + word.size() || !std::isfinite(value) || value < 0.0) {
        return std::nullopt;
    }
    return value;
}

}  // namespace linewood
