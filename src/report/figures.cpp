#include "src/report/figures.hpp"

#include <fmt/format.h>

#include "src/report/log.hpp"

namespace linewood {

std::string grouped(std::int64_t n) {
    std::string text = std::to_string(n);
    for (std::size_t at = text.size(); at > 3; at -= 3) {
        text.insert(at - 3, ",");
    }
    return text;
}

std::string count_words(std::int64_t n, std::string_view one, std::string_view many) {
    return grouped(n) + " " + std::string{n == 1 ? one : many};
}

std::string findings_text(const FindingLog::Counts& findings, std::int64_t unwritten) {
    if (findings.empty()) {
        return "no findings\n";
    }
    std::string out;
    std::int64_t total = 0;
    for (const auto& [code, count] : findings) {
        total += count.count;
    }
    out += count_words(total, "finding", "findings") + "\n";
    for (const Severity severity : {Severity::error, Severity::warning, Severity::note}) {
        for (const auto& [code, count] : findings) {
            if (count.severity == severity) {
                out += fmt::format(
                    "  {:<8} {:<28} {:>9}\n", name_of(severity), code, grouped(count.count));
            }
        }
    }
    if (unwritten > 0) {
        out += fmt::format("  {} of them are not in the layer findings (--max-findings)\n",
                           grouped(unwritten));
    }
    out += "  (linewood finding CODE: what it means and how to mend it)\n";
    return out;
}

std::string findings_json(const FindingLog::Counts& findings) {
    std::string out;
    for (const auto& [code, count] : findings) {
        out += fmt::format("{}{}:{}", out.empty() ? "" : ",", json_string(code), count.count);
    }
    return out;
}

std::string notes_text(const std::vector<OutputNote>& notes) {
    std::string out;
    for (const OutputNote& note : notes) {
        out += fmt::format("note: {}{}{}{}{}\n",
                           note.layer,
                           note.layer.empty() || note.field.empty() ? "" : ".",
                           note.field,
                           note.layer.empty() && note.field.empty() ? "" : ": ",
                           note.message);
    }
    return out;
}

std::string notes_json(const std::vector<OutputNote>& notes) {
    std::string out;
    for (const OutputNote& note : notes) {
        out += fmt::format(R"({}{{"layer":{},"field":{},"message":{}}})",
                           out.empty() ? "" : ",",
                           json_string(note.layer),
                           json_string(note.field),
                           json_string(note.message));
    }
    return out;
}

}  // namespace linewood
