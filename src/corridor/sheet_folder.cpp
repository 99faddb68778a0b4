#include "src/corridor/sheet_folder.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

#include "geo/io/data_error.hpp"
#include "src/pipeline/run_record.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

std::string maker(const std::string& name) { return "linewood " + name; }

/// The files of such a folder, as its own list names them.
std::set<std::string> listed_files(const std::filesystem::path& folder, const std::string& name) {
    std::ifstream in{folder / (name + ".json"), std::ios::binary};
    const std::string text{std::istreambuf_iterator<char>{in}, {}};
    const Json j = Json::parse(text, nullptr, false);
    std::set<std::string> files;
    if (!j.is_object() || !j.contains("made_by") || !j["made_by"].is_string() ||
        j["made_by"].get<std::string>().rfind(maker(name), 0) != 0 || !j.contains("files") ||
        !j["files"].is_array()) {
        return files;
    }
    for (const Json& file : j["files"]) {
        if (file.is_string()) {
            files.insert(file.get<std::string>());
        }
    }
    files.insert(name + ".json");
    return files;
}

/// The sheets of another command are this tool's, but not this command's to replace.
/// @throws DataError
void refuse_other_sheets(const std::filesystem::path& folder, const std::string& name) {
    for (const std::string other : {"projects", "corridors"}) {
        if (other != name && !listed_files(folder, other).empty()) {
            throw DataError{folder.string(),
                            "",
                            "holds the sheets of linewood " + other +
                                ", which are not replaced by those of linewood " + name +
                                "; name another folder with --sheets"};
        }
    }
}

/// The name, once the folder holds the sheets of no other command.
std::string checked_name(const std::filesystem::path& folder, std::string name) {
    refuse_other_sheets(folder, name);
    return name;
}

OutputPlace::IsOwn own_files(const std::filesystem::path& folder, const std::string& name) {
    return [own = listed_files(folder, name)](const std::filesystem::path& file) {
        return own.count(file.filename().string()) > 0;
    };
}

Json cell_json(const Cell& cell) {
    if (const auto* real = std::get_if<double>(&cell)) {
        return *real;
    }
    if (const auto* whole = std::get_if<std::int64_t>(&cell)) {
        return *whole;
    }
    if (const auto* yes = std::get_if<bool>(&cell)) {
        return *yes;
    }
    if (const auto* date = std::get_if<Date>(&cell)) {
        return date->to_string();
    }
    if (const auto* text = std::get_if<std::string>(&cell)) {
        return *text;
    }
    return nullptr;
}

}  // namespace

SheetFolder::SheetFolder(const std::filesystem::path& folder,
                         std::string name,
                         bool overwrite,
                         std::vector<std::string>& notes)
    : name_{checked_name(folder, std::move(name))},
      place_{folder, OutputPlace::Form::folder, overwrite, notes, own_files(folder, name_)} {}

void SheetFolder::write(const std::string& file, const std::string& content) {
    std::ofstream out{place_.work() / file, std::ios::binary | std::ios::trunc};
    out.write(content.data(), static_cast<std::streamsize>(content.size()));
    out.close();
    if (!out) {
        throw DataError{
            place_.target().string(), "", "a page cannot be written; check the space on the disk"};
    }
    files_.push_back(file);
}

CsvWriter SheetFolder::begin_csv(const std::string& file, const std::vector<Field>& fields) {
    std::vector<std::string> header;
    for (const Field& f : fields) {
        header.push_back(f.name);
    }
    files_.push_back(file);
    return CsvWriter{place_.work() / file, header};
}

void SheetFolder::write_list(const Json& document) {
    Json whole{{"made_by", maker(name_) + " " + std::string{tool_version()}}};
    whole.update(document);
    std::sort(files_.begin(), files_.end());
    whole["files"] = files_;
    write(name_ + ".json", whole.dump(1, ' ', false, Json::error_handler_t::replace) + "\n");
}

Json row_json(const std::vector<Field>& fields, std::span<const Cell> cells) {
    Json row = Json::object();
    for (std::size_t i = 0; i < cells.size(); ++i) {
        row[fields[i].name] = cell_json(cells[i]);
    }
    return row;
}

}  // namespace linewood
