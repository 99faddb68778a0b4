#include "src/pipeline/line_rows.hpp"

#include <algorithm>

#include "geo/io/row_condition.hpp"
#include "src/job/job_error.hpp"
#include "src/pipeline/input_findings.hpp"

namespace linewood {

LineRows::LineRows(const InputLayers& inputs, const std::string& condition, Findings& findings) {
    const auto& spans = inputs[InputLayer::spans];
    if (!spans || condition.empty()) {
        return;
    }
    try {
        rows_ = rows_where(spans->source, spans->layer, condition);
    } catch (const ConditionError& e) {
        throw JobError{std::string{"--line-where: "} + e.what()};
    }
    const auto others = std::count(rows_.begin(), rows_.end(), false);
    const bool none = static_cast<std::size_t>(others) == rows_.size();
    if (others > 0) {
        findings.push_back(make_finding(none ? finding::kLineWhereNone : finding::kLineWhereOthers,
                                        InputLayer::spans,
                                        -1,
                                        "",
                                        std::to_string(others)));
    }
}

}  // namespace linewood
