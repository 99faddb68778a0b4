#include "src/corridor/corridor_text.hpp"

#include <cmath>

#include <fmt/format.h>

#include "src/report/figures.hpp"

namespace linewood {

std::string money_text(Money amount) {
    const std::int64_t thousandths = amount.thousandths();
    const std::int64_t whole = thousandths / 1000;
    const std::int64_t rest = thousandths % 1000;
    std::string text = grouped(whole);
    if (rest % 10 != 0) {
        text += fmt::format(".{:03}", rest);
    } else if (rest != 0) {
        text += fmt::format(".{:02}", rest / 10);
    }
    return text;
}

std::string plain_text(double value, int decimals) {
    std::string text = fmt::format("{:.{}f}", value, decimals);
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') {
            text.pop_back();
        }
    }
    return text == "-0" ? "0" : text;
}

std::string places_text(const LineModel& line, const std::vector<RunPart>& parts) {
    std::string text;
    for (const RunPart& part : parts) {
        text += fmt::format("{}{} {}-{} m",
                            text.empty() ? "" : "; ",
                            line.run_id(part.run),
                            plain_text(part.from_m, 1),
                            plain_text(part.to_m, 1));
    }
    return text;
}

}  // namespace linewood
