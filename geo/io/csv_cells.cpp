#include <algorithm>
#include <filesystem>
#include <vector>

#include "geo/io/csv_lines.h"
#include "geo/io/written_cells.h"

namespace linewood {
namespace {

class CsvCells final : public WrittenCells {
public:
    CsvCells(const std::string& file, const LayerSchema& schema) : rows_{file} {
        if (!rows_.next(row_)) {
            return;
        }
        split();
        const bool by_place = row_.cells.size() == schema.fields.size();
        for (std::size_t i = 0; i < schema.fields.size(); ++i) {
            const auto named =
                std::find(row_.cells.begin(), row_.cells.end(), schema.fields[i].name);
            if (by_place) {
                places_.emplace_back(i);
            } else if (named != row_.cells.end()) {
                places_.emplace_back(static_cast<std::size_t>(named - row_.cells.begin()));
            } else {
                places_.emplace_back(std::nullopt);
            }
        }
    }

    bool is_open() const { return !places_.empty(); }

    bool go_to(std::int64_t fid) override {
        while (at_ < fid) {
            if (!rows_.next(row_)) {
                return false;
            }
            ++at_;  // OGR counts rows from 1
        }
        split();
        return at_ == fid;
    }

    std::optional<std::string_view> cell(std::size_t column) override {
        const auto place = places_[column];
        if (!place) {
            return std::nullopt;
        }
        return *place < row_.cells.size() ? std::string_view{row_.cells[*place]}
                                          : std::string_view{};
    }

private:
    void split() {
        if (!row_.split) {
            rows_.split(row_);
            row_.split = true;
        }
    }

    CsvRows rows_;
    CsvRow row_;
    std::int64_t at_ = 0;
    std::vector<std::optional<std::size_t>> places_;
};

}  // namespace

std::unique_ptr<WrittenCells> open_csv_cells(const std::string& file, const LayerSchema& schema) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error)) {
        return nullptr;
    }
    auto cells = std::make_unique<CsvCells>(file, schema);
    return cells->is_open() ? std::move(cells) : nullptr;
}

}  // namespace linewood
