#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "geo/io/cell.hpp"
#include "geo/io/csv_writer.hpp"
#include "geo/io/output_place.hpp"

namespace linewood {

/// A folder of pages and tables beside a dataset: there complete, or not there. One file, `<name>.json`,
/// lists all files of the folder, so that it can be told from a folder of other things when it is to be
/// replaced.
class SheetFolder {
public:
    /// @param name of the command that writes it: `projects`. @throws DataError as OutputPlace
    SheetFolder(const std::filesystem::path& folder,
                std::string name,
                bool overwrite,
                std::vector<std::string>& notes);

    void write(const std::string& file, const std::string& content);
    /// A table of rows that `rows` writes. @throws DataError
    template <typename Rows>
    void write_csv(const std::string& file, const std::vector<Field>& fields, Rows rows) {
        CsvWriter csv = begin_csv(file, fields);
        rows(csv);
        csv.finish();
    }
    /// Adds `made_by` and `files` to the document, and writes it: the last file.
    void write_list(const nlohmann::ordered_json& document);
    /// Puts the folder in its place. @pre its list is written
    void publish() { place_.publish(); }
    const std::filesystem::path& target() const { return place_.target(); }

private:
    CsvWriter begin_csv(const std::string& file, const std::vector<Field>& fields);

    std::string name_;
    OutputPlace place_;
    std::vector<std::string> files_;
};

/// A row as a JSON object, by the names of its columns.
nlohmann::ordered_json row_json(const std::vector<Field>& fields, std::span<const Cell> cells);

}  // namespace linewood
