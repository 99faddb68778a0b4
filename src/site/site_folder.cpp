#include "src/site/site_folder.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

#include <nlohmann/json.hpp>

#include "geo/io/data_error.hpp"
#include "src/pipeline/run_record.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

constexpr const char* kList = "site.json";
constexpr std::string_view kMaker = "linewood publish";

/// The files that a site says are its own; none where the folder is no site.
std::set<std::string> listed_files(const fs::path& folder) {
    std::ifstream in{folder / kList, std::ios::binary};
    const std::string text{std::istreambuf_iterator<char>{in}, {}};
    const Json j = Json::parse(text, nullptr, false);
    std::set<std::string> files;
    if (!j.is_object() || !j.contains("made_by") || !j["made_by"].is_string() ||
        j["made_by"].get<std::string>().rfind(kMaker, 0) != 0 || !j.contains("files") ||
        !j["files"].is_array()) {
        return files;
    }
    for (const Json& file : j["files"]) {
        if (file.is_string()) {
            files.insert(file.get<std::string>());
        }
    }
    files.insert(kList);
    return files;
}

OutputPlace::IsOwn own_files(fs::path folder) {
    if (folder.filename().empty()) {
        folder = folder.parent_path();
    }
    std::error_code error;
    fs::path real = fs::weakly_canonical(folder, error);
    return [real = error ? folder : std::move(real),
            own = listed_files(folder)](const fs::path& file) {
        std::error_code ignored;
        const fs::path relative = fs::weakly_canonical(file, ignored).lexically_relative(real);
        return own.count(relative.generic_string()) > 0;
    };
}

[[noreturn]] void throw_unwritten(const fs::path& target, const std::string& file) {
    throw DataError{target.string(),
                    "",
                    "'" + file + "' cannot be written; free some space or choose another place"};
}

}  // namespace

SiteFolder::SiteFolder(const fs::path& folder, bool overwrite, std::vector<std::string>& notes)
    : place_{folder, OutputPlace::Form::tree, overwrite, notes, own_files(folder)} {}

fs::path SiteFolder::make_folder(const std::string& folder) const {
    const fs::path path = work() / folder;
    std::error_code error;
    fs::create_directories(path, error);
    if (error) {
        throw_unwritten(target(), folder);
    }
    return path;
}

void SiteFolder::write(const std::string& file, std::string_view content) const {
    make_folder(fs::path{file}.parent_path().string());
    std::ofstream out{work() / file, std::ios::binary | std::ios::trunc};
    out.write(content.data(), static_cast<std::streamsize>(content.size()));
    out.close();
    if (!out) {
        throw_unwritten(target(), file);
    }
}

void SiteFolder::copy(const fs::path& from, const std::string& file) const {
    make_folder(fs::path{file}.parent_path().string());
    std::ifstream in{from, std::ios::binary};
    if (!in) {
        throw DataError{from.string(), "", "cannot be read; check the name"};
    }
    std::ofstream out{work() / file, std::ios::binary | std::ios::trunc};
    if (in.peek() != std::ifstream::traits_type::eof()) {
        out << in.rdbuf();
    }
    out.close();
    if (!out) {
        throw_unwritten(target(), file);
    }
    if (in.bad()) {
        throw DataError{from.string(), "", "cannot be read to its end"};
    }
}

std::vector<std::string> SiteFolder::files(const std::string& folder) const {
    std::vector<std::string> files;
    if (fs::exists(work() / folder)) {
        for (const auto& entry : fs::recursive_directory_iterator{work() / folder}) {
            if (entry.is_regular_file()) {
                files.push_back(entry.path().lexically_relative(work()).generic_string());
            }
        }
    }
    std::sort(files.begin(), files.end());
    return files;
}

std::uintmax_t SiteFolder::size_of(const std::string& file) const {
    return fs::file_size(work() / file);
}

void SiteFolder::finish() {
    const Json list{{"made_by", std::string{kMaker} + " " + std::string{tool_version()}},
                    {"files", files()}};
    write(kList, list.dump(1, ' ', false, Json::error_handler_t::replace) + "\n");
    place_.publish();
}

}  // namespace linewood
