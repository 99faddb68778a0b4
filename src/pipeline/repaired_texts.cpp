#include "src/pipeline/repaired_texts.hpp"

#include "src/pipeline/input_findings.hpp"

namespace linewood {

void note_repaired_texts(const LayerWriter& written,
                         InputLayer layer,
                         const PoleIndex* ids,
                         FindingLog& log) {
    const RepairedTexts& texts = written.repaired_texts();
    for (const RepairedText& text : texts.first()) {
        Finding f = make_finding(finding::kTextNotUtf8, layer, text.fid, text.column, text.bytes);
        if (ids != nullptr && !ids->id(static_cast<std::uint32_t>(text.row)).empty()) {
            f.feature = std::string{ids->id(static_cast<std::uint32_t>(text.row))};
        }
        if (f.feature.empty()) {
            f.feature = std::to_string(text.row);  // the format numbers nothing
        }
        log.write(f);
    }
    for (const auto& [column, count] : texts.counts()) {
        if (count > RepairedTexts::kMostOfColumn) {
            Finding f = make_finding(finding::kTextNotUtf8, layer, -1, column, "");
            f.message = std::to_string(count) +
                        " texts of this column are no valid UTF-8, of which the first " +
                        std::to_string(RepairedTexts::kMostOfColumn) + " are listed";
            log.write(f);
        }
    }
}

}  // namespace linewood
