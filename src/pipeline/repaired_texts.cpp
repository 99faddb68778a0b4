#include "src/pipeline/repaired_texts.hpp"

#include "geo/io/output_dataset.hpp"
#include "src/pipeline/input_findings.hpp"

namespace linewood {
namespace {

const FindingKind& kind_of(TextFault fault) {
    return fault == TextFault::not_utf8 ? finding::kTextNotUtf8 : finding::kNulBytes;
}

}  // namespace

void note_repaired_texts(const LayerWriter& written,
                         InputLayer layer,
                         const PoleIndex* ids,
                         FindingLog& log) {
    const RepairedTexts& texts = written.repaired_texts();
    for (const RepairedText& text : texts.first()) {
        Finding f = make_finding(kind_of(text.fault), layer, text.fid, text.column, text.bytes);
        if (ids != nullptr && !ids->id(static_cast<std::uint32_t>(text.row)).empty()) {
            f.feature = std::string{ids->id(static_cast<std::uint32_t>(text.row))};
        }
        if (f.feature.empty()) {
            f.feature = std::to_string(text.row);  // the format numbers nothing
        }
        log.write(f);
    }
    for (const auto& [fault_in, count] : texts.counts()) {
        const auto& [fault, column] = fault_in;
        if (count > RepairedTexts::kMostOfColumn) {
            Finding f = make_finding(kind_of(fault), layer, -1, column, "");
            f.message = std::to_string(count) + " texts of this column " +
                        (fault == TextFault::not_utf8 ? "are no valid UTF-8" : "hold bytes 0") +
                        ", of which the first " + std::to_string(RepairedTexts::kMostOfColumn) +
                        " are listed";
            log.write(f);
        }
    }
}

void note_losses(const LayerWriter& written, InputLayer layer, FindingLog& log) {
    for (const OutputNote& loss : written.losses()) {
        Finding f = make_finding(finding::kOutputChanged, layer, -1, loss.field, "");
        f.message = loss.message;
        log.write(f);
    }
}

}  // namespace linewood
