#include <array>
#include <filesystem>
#include <fstream>
#include <vector>

#include "geo/io/data_error.hpp"
#include "geo/io/written_cells.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kDescriptor = 32;  // bytes of the file's head, and of a field in it

unsigned byte_at(std::string_view bytes, std::size_t at) {
    return static_cast<unsigned char>(bytes[at]);
}

std::string_view without_padding(std::string_view cell) {
    constexpr std::string_view kPadding{" \0\t", 3};
    const std::size_t first = cell.find_first_not_of(kPadding);
    if (first == std::string_view::npos) {
        return {};
    }
    return cell.substr(first, cell.find_last_not_of(kPadding) - first + 1);
}

/// A dBASE table: a head, then records of one size.
class DbfCells final : public WrittenCells {
public:
    explicit DbfCells(const fs::path& file) : in_{file, std::ios::binary} {
        std::array<char, kDescriptor> head{};
        in_.read(head.data(), head.size());
        const std::string_view bytes{head.data(), head.size()};
        head_ = byte_at(bytes, 8) + 256U * byte_at(bytes, 9);
        record_.resize(byte_at(bytes, 10) + 256U * byte_at(bytes, 11));
        std::array<char, kDescriptor> field{};
        std::size_t at = 1;  // behind the mark of a deleted record
        for (std::size_t read = kDescriptor; read + kDescriptor < head_ + 1; read += kDescriptor) {
            in_.read(field.data(), field.size());
            constexpr char kEndOfFields = '\x0D';
            if (!in_ || field[0] == kEndOfFields) {
                break;
            }
            const std::string_view text{field.data(), field.size()};
            // Texts of over 255 bytes have the higher byte of their width where numbers have their decimals.
            const std::size_t size =
                byte_at(text, 16) + (field[11] == 'C' ? 256U * byte_at(text, 17) : 0U);
            fields_.push_back({at, size, field[11] == 'N' || field[11] == 'F', field[11] == 'C'});
            at += size;
        }
    }

    bool holds(const LayerSchema& schema) const {
        return fields_.size() == schema.fields.size() && !fields_.empty() &&
               fields_.back().at + fields_.back().size <= record_.size();
    }

    bool go_to(std::int64_t fid) override {
        in_.clear();
        const auto place =
            static_cast<std::streamoff>(head_) + static_cast<std::streamoff>(record_.size()) * fid;
        if (place != next_) {
            in_.seekg(place);
        }
        in_.read(record_.data(), static_cast<std::streamsize>(record_.size()));
        next_ = place + in_.gcount();
        return static_cast<std::size_t>(in_.gcount()) == record_.size();
    }

    std::optional<std::string_view> cell(std::size_t column) override {
        const FieldPlace& f = fields_[column];
        const std::string_view written = std::string_view{record_}.substr(f.at, f.size);
        if (f.text) {
            constexpr std::string_view kPadding{" \0", 2};  // some programs pad with bytes 0
            return written.substr(0, written.find_last_not_of(kPadding) + 1);
        }
        const bool stars = f.number && written.find_first_not_of('*') == std::string_view::npos;
        return stars && !leaves_blank() ? std::string_view{} : without_padding(written);
    }

private:
    struct FieldPlace {
        std::size_t at;
        std::size_t size;
        bool number;
        bool text;
    };

    /// Is there a number left blank in the table? A cell full of stars is a number too long for it; but GDAL writes
    /// them for none, and then never a blank.
    bool leaves_blank() {
        if (!leaves_blank_) {
            const std::string present = record_;
            leaves_blank_ = false;
            for (std::int64_t row = 0; !*leaves_blank_ && go_to(row); ++row) {
                for (const FieldPlace& f : fields_) {
                    leaves_blank_ =
                        *leaves_blank_ ||
                        (f.number && record_[0] != '*' &&
                         without_padding(std::string_view{record_}.substr(f.at, f.size)).empty());
                }
            }
            record_ = present;
        }
        return *leaves_blank_;
    }

    std::ifstream in_;
    std::size_t head_ = 0;
    std::string record_;
    std::vector<FieldPlace> fields_;
    std::streamoff next_ = -1;  // where the stream stands
    std::optional<bool> leaves_blank_;
};

}  // namespace

std::unique_ptr<WrittenCells> open_dbf_cells(const std::string& file, const LayerSchema& schema) {
    std::error_code error;
    for (const char* kind : {".dbf", ".DBF", ".Dbf"}) {
        const fs::path table = fs::path{file}.replace_extension(kind);
        if (!fs::is_regular_file(table, error)) {
            continue;
        }
        auto cells = std::make_unique<DbfCells>(table);
        if (cells->holds(schema)) {
            return cells;
        }
    }
    return nullptr;
}

}  // namespace linewood
