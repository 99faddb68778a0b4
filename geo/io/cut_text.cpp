#include "geo/io/cut_text.h"

#include <algorithm>
#include <utility>

#include "geo/io/nul_text.h"
#include "geo/io/row_stream.h"

namespace linewood {
namespace {

class CutTextCheck final : public RowCheck {
public:
    CutTextCheck(const std::vector<CutText>& texts,
                 const LayerSchema& schema,
                 const ReadOptions& options)
        : texts_{texts}, schema_{schema}, options_{options} {}

    bool cuts_text(const BatchRows& rows) override {
        const auto [first, last] = of(rows, rows.first_row);
        return first != last;
    }

    void check(BatchRows& rows, std::int64_t first_row) override {
        auto* features = dynamic_cast<FeatureRows*>(&rows);
        if (features == nullptr) {
            return;
        }
        const auto [first, last] = of(rows, first_row);
        for (auto it = first; it != last; ++it) {
            const auto column = schema_.field_index(it->column);
            if (!column || !is_wanted(options_, *column)) {
                continue;
            }
            const auto row = static_cast<std::size_t>(it->row - first_row);
            features->keep_as_written(row, *column, with_nul_as(it->text, kNulReplacement));
            rows.damage.push_back(
                {static_cast<std::int64_t>(row),
                 {DamageKind::nul_in_database, it->column, with_nul_as(it->text, kNulShown)}});
        }
    }

private:
    using Place = std::vector<CutText>::const_iterator;

    std::pair<Place, Place> of(const BatchRows& rows, std::int64_t first_row) const {
        const auto before = [](const CutText& text, std::int64_t row) { return text.row < row; };
        const auto end = first_row + static_cast<std::int64_t>(rows.size());
        return {std::lower_bound(texts_.begin(), texts_.end(), first_row, before),
                std::lower_bound(texts_.begin(), texts_.end(), end, before)};
    }

    const std::vector<CutText>& texts_;
    const LayerSchema& schema_;
    const ReadOptions& options_;
};

}  // namespace

std::unique_ptr<RowCheck> make_cut_text_check(const std::vector<CutText>& texts,
                                              const LayerSchema& schema,
                                              const ReadOptions& options) {
    // Which rows a condition leaves is not known.
    return texts.empty() || !options.where.empty()
               ? nullptr
               : std::make_unique<CutTextCheck>(texts, schema, options);
}

}  // namespace linewood
