#include "src/report/finding_pages.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "assess/condition/condition_findings.hpp"
#include "geo/network/network_findings.hpp"
#include "src/assessed/area_findings.hpp"
#include "src/clusters/cluster_findings.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/report/finding_advice.hpp"
#include "src/report/wrapped_text.hpp"

namespace linewood {
namespace {

constexpr std::size_t kWidth = 80;

constexpr const FindingAdvice* advice_on(std::string_view code) {
    for (const FindingAdvice& advice : kFindingAdvice) {
        if (advice.code == code) {
            return &advice;
        }
    }
    return nullptr;
}

template <typename Kinds>
constexpr bool all_have_advice(const Kinds& kinds) {
    for (const auto& kind : kinds) {
        const FindingAdvice* advice = advice_on(kind.code);
        if (advice == nullptr || advice->why.empty() || advice->mend.empty()) {
            return false;
        }
    }
    return true;
}

// A new kind of finding does not compile without its page, nor a page without its kind.
static_assert(all_have_advice(finding::kConditionKinds), "a line in finding_advice.hpp is missing");
static_assert(all_have_advice(kNetworkFindingCodes), "a line in finding_advice.hpp is missing");
static_assert(all_have_advice(finding::kInputKinds), "a line in finding_advice.hpp is missing");
static_assert(all_have_advice(finding::kClusterKinds), "a line in finding_advice.hpp is missing");
static_assert(all_have_advice(finding::kAreaKinds), "a line in finding_advice.hpp is missing");
static_assert(kFindingAdvice.size() ==
                  finding::kConditionKinds.size() + kNetworkFindingCodes.size() +
                      finding::kInputKinds.size() + finding::kClusterKinds.size() +
                      finding::kAreaKinds.size(),
              "advice on a code that no kind of finding has, or on one twice");

template <typename Kinds>
void add_pages(const Kinds& kinds, std::vector<FindingPage>& pages) {
    for (const auto& kind : kinds) {
        const FindingAdvice* advice = advice_on(kind.code);
        pages.push_back({kind.code, kind.severity, kind.meaning, advice->why, advice->mend});
    }
}

/// With a capital first and a full stop last, as on a page of its own.
std::string sentence(std::string_view text) {
    std::string out{text};
    if (!out.empty() && out.front() >= 'a' && out.front() <= 'z' && out.find('_') > out.find(' ')) {
        out.front() = static_cast<char>(out.front() - 'a' + 'A');
    }
    if (!out.empty() && out.back() != '.' && out.back() != '?') {
        out += '.';
    }
    return out;
}

}  // namespace

std::vector<FindingPage> finding_pages() {
    std::vector<FindingPage> pages;
    add_pages(finding::kConditionKinds, pages);
    add_pages(kNetworkFindingCodes, pages);
    add_pages(finding::kInputKinds, pages);
    add_pages(finding::kClusterKinds, pages);
    add_pages(finding::kAreaKinds, pages);
    std::sort(pages.begin(), pages.end(), [](const FindingPage& a, const FindingPage& b) {
        return a.severity != b.severity ? a.severity < b.severity : a.code < b.code;
    });
    return pages;
}

const FindingPage* find_page(const std::vector<FindingPage>& pages, std::string_view code) {
    const auto found = std::find_if(
        pages.begin(), pages.end(), [&](const FindingPage& p) { return p.code == code; });
    return found == pages.end() ? nullptr : &*found;
}

std::string finding_list_text(const std::vector<FindingPage>& pages) {
    std::string out;
    for (const FindingPage& page : pages) {
        const std::string head = fmt::format("{:<8} {:<30} ", name_of(page.severity), page.code);
        out += wrapped(head, page.meaning, head.size());
    }
    return out + "\nlinewood finding CODE: why it matters, and how to mend it\n";
}

std::string finding_page_text(const FindingPage& page) {
    std::string out = fmt::format("{} ({})\n", page.code, name_of(page.severity));
    const auto part = [&](std::string_view heading, std::string_view text) {
        out += fmt::format("\n{}\n", heading);
        out += wrapped("  ", sentence(text), 2, kWidth);
    };
    part("What it means", page.meaning);
    part("Why it matters", page.why);
    part("How to mend it", page.mend);
    return out;
}

std::string finding_pages_markdown(const std::vector<FindingPage>& pages) {
    std::string out;
    for (const FindingPage& page : pages) {
        out += fmt::format(
            "{}## `{}` ({})\n\n{}\n\n**Why it matters.** {}\n\n**How to mend it.** {}\n",
            out.empty() ? "" : "\n",
            page.code,
            name_of(page.severity),
            sentence(page.meaning),
            sentence(page.why),
            sentence(page.mend));
    }
    return out;
}

std::string finding_pages_json(const std::vector<FindingPage>& pages) {
    auto list = nlohmann::ordered_json::array();
    for (const FindingPage& page : pages) {
        list.push_back({{"code", page.code},
                        {"severity", name_of(page.severity)},
                        {"meaning", page.meaning},
                        {"why", page.why},
                        {"mend", page.mend}});
    }
    return list.dump(2) + "\n";
}

}  // namespace linewood
