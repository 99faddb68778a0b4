#include "geo/io/virtual_copy.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <vector>

#include <cpl_string.h>
#include <cpl_vsi.h>

#include "geo/io/data_error.hpp"
#include "geo/io/gdal_session.h"
#include "geo/io/layer_schema.hpp"
#include "geo/io/stand_in.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

bool ends_with(const std::string& text, std::string_view end) {
    return text.size() > end.size() && same_name(text.substr(text.size() - end.size()), end);
}

enum class Kind : std::uint8_t { none, file, folder };

Kind kind_of(const std::string& path) {
    const ErrorCollector quiet;
    VSIStatBufL state;
    if (VSIStatL(path.c_str(), &state) != 0) {
        return Kind::none;
    }
    return VSI_ISDIR(state.st_mode) != 0   ? Kind::folder
           : VSI_ISREG(state.st_mode) != 0 ? Kind::file
                                           : Kind::none;
}

bool copy_bytes(const std::string& from, const fs::path& to) {
    const ErrorCollector errors;
    VSILFILE* in = VSIFOpenL(from.c_str(), "rb");
    if (in == nullptr) {
        return false;
    }
    std::ofstream out{to, std::ios::binary};
    std::vector<char> piece(std::size_t{1} << 20U);
    for (std::size_t got = piece.size(); got == piece.size() && out;) {
        got = VSIFReadL(piece.data(), 1, piece.size(), in);
        out.write(piece.data(), static_cast<std::streamsize>(got));
    }
    VSIFCloseL(in);
    out.close();
    return static_cast<bool>(out) && !errors.failed();
}

/// Files of `folder`, those in folders of it left out; with a stem, only those called so.
std::vector<std::string> files_in(const std::string& folder, const std::string& stem) {
    const ErrorCollector quiet;
    std::vector<std::string> names;
    const CPLStringList list{VSIReadDir(folder.c_str())};
    for (int i = 0; i < list.Count(); ++i) {
        const std::string name = list[i];
        const bool plain = name.find('/') == std::string::npos && name != "." && name != "..";
        if (plain && (stem.empty() || same_name(fs::path{name}.stem().string(), stem)) &&
            kind_of(folder + "/" + name) == Kind::file) {
            names.push_back(name);
        }
    }
    return names;
}

/// The file that an archive is about: a KML, or the shapes. Empty: all of it.
std::string main_of(const std::vector<std::string>& names, const std::string& file) {
    std::string main;
    const std::string_view wanted = ends_with(file, ".kmz") ? ".kml" : ".shp";
    for (const std::string& name : names) {
        if (ends_with(name, wanted)) {
            if (!main.empty() && wanted == ".shp") {
                return {};  // several
            }
            main = main.empty() ? name : main;
        }
    }
    return main;
}

}  // namespace

std::string virtual_path_of(const std::string& file) {
    constexpr std::string_view kVirtual{"/vsi"};
    constexpr std::string_view kInMemory{"/vsimem"};
    if (file.compare(0, kVirtual.size(), kVirtual) == 0) {
        return file.compare(0, kInMemory.size(), kInMemory) == 0 ? std::string{} : file;
    }
    std::error_code error;
    const bool archive =
        ends_with(file, ".kmz") || ends_with(file, ".shz") || ends_with(file, ".shp.zip");
    return archive && fs::is_regular_file(file, error)
               ? "/vsizip/{" + fs::absolute(file).string() + "}"
               : std::string{};
}

bool is_virtual_folder(const std::string& path) {
    return !virtual_path_of(path).empty() && kind_of(path) == Kind::folder;
}

std::shared_ptr<const StandIn> copy_from_virtual(const std::string& file,
                                                 const std::string& inside) {
    const Kind kind = kind_of(inside);
    if (kind == Kind::none) {
        return nullptr;
    }
    const bool one = kind == Kind::file;
    const std::string folder = one ? fs::path{inside}.parent_path().string() : inside;
    std::vector<std::string> names =
        files_in(folder, one ? fs::path{inside}.stem().string() : std::string{});
    if (names.empty() && !one) {
        return nullptr;  // folders within folders: GDAL may know more
    }
    const std::string own = fs::path{inside}.filename().string();
    if (one && std::find(names.begin(), names.end(), own) == names.end()) {
        names.push_back(own);
    }
    auto copy = std::make_shared<StandIn>(file);
    copy->set_name(one ? own : main_of(names, file));
    for (const std::string& name : names) {
        if (!copy_bytes(folder + "/" + name, copy->folder() / name)) {
            throw DataError{file,
                            "",
                            "it has to be read through a copy, and " + name +
                                " cannot be copied; unpack or download it yourself and give that, "
                                "or free some space in the folder for temporary files (TMPDIR)"};
        }
    }
    return copy;
}

}  // namespace linewood
