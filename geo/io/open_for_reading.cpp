#include <array>
#include <filesystem>
#include <fstream>
#include <system_error>

#include "geo/io/csv_places.h"
#include "geo/io/source_pool.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

bool exists_with_bytes(const fs::path& path) {
    std::error_code error;
    const auto size = fs::file_size(path, error);
    return !error && size > 0;
}

bool is_connection_string(const std::string& name) {
    return name.rfind("/vsi", 0) == 0 || name.find(':') != std::string::npos;
}

struct SqliteHead {
    bool is_sqlite = false;
    bool write_ahead = false;
};

SqliteHead sqlite_head(const fs::path& path) {
    std::array<char, 20> head{};
    std::ifstream in{path, std::ios::binary};
    in.read(head.data(), static_cast<std::streamsize>(head.size()));
    if (in.gcount() < 20 || std::string_view{head.data(), 15} != "SQLite format 3") {
        return {};
    }
    return {true, head[18] == 2};
}

/// May the file be read as if nobody could change it? Only then does SQLite do without locks and side files.
/// With a journal or a filled write-ahead log beside it, that would read a torn state.
bool may_be_immutable(const fs::path& path) {
    return !fs::exists(path.string() + "-journal") && !exists_with_bytes(path.string() + "-wal");
}

/// A write-ahead-log database that nobody has open: reading it in the ordinary way would create
/// `-wal` and `-shm` beside it (and fail on read-only media).
bool is_resting_write_ahead(const fs::path& path, const SqliteHead& head) {
    return head.write_ahead && !fs::exists(path.string() + "-wal") &&
           !fs::exists(path.string() + "-shm") && !fs::exists(path.string() + "-journal");
}

CPLStringList options_for(const std::string& driver, const fs::path& file, bool on_disk) {
    CPLStringList options;
    if (driver == "CSV") {
        options.AddString("AUTODETECT_TYPE=NO");
        options.AddString("HEADERS=YES");
        options.AddString("EMPTY_STRING_AS_NULL=YES");
        options.AddString("MAX_LINE_SIZE=-1");
        // Of a column taken for a coordinate OGR keeps no text.
        const auto places = on_disk ? csv_places(file) : std::nullopt;
        if (places && !places->by_ogr) {
            // Its rows get their places from sheet_places.h.
        } else if (places && places->shape) {
            options.SetNameValue("GEOM_POSSIBLE_NAMES", places->x.c_str());
        } else if (places) {
            options.SetNameValue("X_POSSIBLE_NAMES", places->x.c_str());
            options.SetNameValue("Y_POSSIBLE_NAMES", places->y.c_str());
        }
    } else if (driver == "GeoJSON") {
        options.AddString("DATE_AS_STRING=YES");
    } else if (driver == "GML") {
        options.AddString("WRITE_GFS=NO");  // nothing is left beside an input
        options.AddString("EMPTY_AS_NULL=NO");
    } else if (driver == "PostgreSQL" || driver == "SQLite") {
        options.AddString("LIST_ALL_TABLES=YES");  // those without a geometry too
    }
    return options;
}

std::string identified_driver(const std::string& file) {
    GDALDriverH driver = GDALIdentifyDriverEx(file.c_str(), GDAL_OF_VECTOR, nullptr, nullptr);
    return driver == nullptr ? std::string{} : std::string{GDALGetDriverShortName(driver)};
}

/// A database answers, but cannot be changed through this connection, and nobody waits for it for ever.
void hold_back(GDALDataset& dataset) {
    const GDALDriver* driver = dataset.GetDriver();
    if (driver == nullptr || std::string_view{driver->GetDescription()} != "PostgreSQL") {
        return;
    }
    for (const char* const sql :
         {"SET SESSION CHARACTERISTICS AS TRANSACTION READ ONLY", "SET lock_timeout = '30s'"}) {
        dataset.ReleaseResultSet(dataset.ExecuteSQL(sql, nullptr, nullptr));
    }
}

GDALDatasetUniquePtr open_with(const std::string& file, const CPLStringList& options) {
    GDALDatasetUniquePtr dataset{
        GDALDataset::Open(file.c_str(),
                          GDAL_OF_VECTOR | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR,
                          nullptr,
                          options.List())};
    if (dataset) {
        hold_back(*dataset);
    }
    return dataset;
}

unsigned number_at(std::string_view bytes, std::size_t at) {
    unsigned number = 0;
    for (std::size_t i = 4; i-- > 0;) {
        number = number * 256 + static_cast<unsigned char>(bytes[at + i]);
    }
    return number;
}

/// A part of a Shapefile beside the one named; empty where there is none.
fs::path part_of(const fs::path& file, const char* lower, const char* upper) {
    for (const char* const kind : {lower, upper}) {
        fs::path part = fs::path{file}.replace_extension(kind);
        std::error_code error;
        if (fs::is_regular_file(part, error)) {
            return part;
        }
    }
    return {};
}

/// GDAL reads what its parts have in common, and leaves out the rest without a word. @throws DataError
void check_shapefile_parts(const std::string& file, const std::string& shown) {
    const fs::path shapes = part_of(file, ".shp", ".SHP");
    const fs::path index = part_of(file, ".shx", ".SHX");
    const fs::path table = part_of(file, ".dbf", ".DBF");
    if (shapes.empty() && index.empty()) {
        return;  // a table by itself
    }
    constexpr const char* kRestore = "; restore all parts of the Shapefile from one copy";
    if (shapes.empty() || table.empty()) {
        throw DataError{
            shown,
            "",
            std::string{"its "} + (shapes.empty() ? ".shp" : ".dbf") + " is not there" + kRestore};
    }
    std::array<char, 8> head{};
    std::ifstream in{table, std::ios::binary};
    in.read(head.data(), head.size());
    std::error_code error;
    constexpr std::uintmax_t kHead = 100;  // bytes of the index, then 8 a shape
    const std::uintmax_t size = index.empty() ? 0 : fs::file_size(index, error);
    if (in.gcount() < 8 || error || size < kHead) {
        return;  // GDAL says what is wrong with them
    }
    const std::uintmax_t shape_count = (size - kHead) / 8;
    const unsigned row_count = number_at({head.data(), head.size()}, 4);
    if (shape_count != row_count) {
        throw DataError{shown,
                        "",
                        "its .shx has " + std::to_string(shape_count) + " shapes and its .dbf " +
                            std::to_string(row_count) + " rows" + kRestore};
    }
}

void check_there(const std::string& file, bool on_disk) {
    if (!on_disk) {
        if (!is_connection_string(file)) {
            throw DataError{file, "", "there is no such file or folder; check the path"};
        }
        return;
    }
    std::error_code error;
    if (fs::is_other(fs::status(file, error))) {
        throw DataError{file,
                        "",
                        "this is neither a file nor a folder, but a pipe or a device, which cannot "
                        "be read twice; "
                        "put what it gives into a file first"};
    }
    if (fs::is_regular_file(file, error) && fs::file_size(file, error) == 0) {
        throw DataError{file, "", "the file is empty; restore it from a copy"};
    }
    if (fs::is_regular_file(file, error) && !std::ifstream{file}.is_open()) {
        throw DataError{file, "", "the file cannot be read; check its permissions"};
    }
}

}  // namespace

GDALDatasetUniquePtr open_for_reading(const std::string& file, const std::string& shown) {
    start_gdal();
    std::error_code error;
    const bool on_disk = fs::exists(file, error);
    check_there(file, on_disk);

    ErrorCollector errors;
    const std::string driver = identified_driver(file);
    CPLStringList options = options_for(driver, file, on_disk);
    if (driver == "ESRI Shapefile" && on_disk && fs::is_regular_file(file, error)) {
        check_shapefile_parts(file, shown);
    }
    const SqliteHead head = on_disk ? sqlite_head(file) : SqliteHead{};
    if (head.is_sqlite && driver == "GPKG" && is_resting_write_ahead(file, head)) {
        options.AddString("IMMUTABLE=YES");
        if (auto dataset = open_with(file, options)) {
            return dataset;
        }
        throw_gdal_error(shown, "", "opening", errors);
    }
    if (auto dataset = open_with(file, options)) {
        return dataset;
    }
    if (head.is_sqlite && driver == "GPKG") {
        if (!may_be_immutable(file)) {
            throw DataError{shown,
                            "",
                            "a change to this GeoPackage was not finished (a -journal or -wal file "
                            "lies beside it): open it once in the program that wrote it, or put "
                            "the two together where they can be written, and try again"};
        }
        if (!errors.failure_mentions("locked")) {
            options.AddString("IMMUTABLE=YES");
            if (auto dataset = open_with(file, options)) {
                return dataset;
            }
        }
    }
    if (driver.empty() && !is_connection_string(file)) {
        throw DataError{shown,
                        "",
                        "this is not a vector dataset that can be read, or it is damaged; give a "
                        "GeoPackage, FlatGeobuf, GeoJSON, Shapefile or CSV, or a folder of them"};
    }
    if (driver == "CSV" && errors.failure_mentions("not recognized")) {
        throw DataError{
            shown,
            "",
            "this is no table of at least two columns parted by commas, semicolons or "
            "tabs; check its first line (a single column needs a second one beside it)"};
    }
    throw_gdal_error(shown, "", "opening", errors);
}

}  // namespace linewood
