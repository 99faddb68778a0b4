#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <vector>

#include "geo/io/data_error.hpp"
#include "geo/io/source_pool.h"
#include "geo/io/stand_in.h"
#include "geo/io/written_cells.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

/// While it lives GDAL takes every GML property for text in this thread.
class AllText {
public:
    AllText() { CPLSetThreadLocalConfigOption("GML_FIELDTYPES", "ALWAYS_STRING"); }
    ~AllText() { CPLSetThreadLocalConfigOption("GML_FIELDTYPES", nullptr); }
    AllText(const AllText&) = delete;
    AllText& operator=(const AllText&) = delete;
    AllText(AllText&&) = delete;
    AllText& operator=(AllText&&) = delete;
};

/// `<SimpleField name="n" type="int">` with another type.
void make_text_of(std::string& element) {
    for (const char quote : {'"', '\''}) {
        const std::size_t begin = element.find(std::string{"type="} + quote);
        const std::size_t end = begin == std::string::npos ? begin : element.find(quote, begin + 6);
        if (end != std::string::npos) {
            element.replace(begin + 6, end - begin - 6, "string");
            return;
        }
    }
}

/// A KML whose fields are all declared as text.
void copy_without_types(const fs::path& from, const fs::path& to) {
    std::ifstream in{from, std::ios::binary};
    const std::string text{std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
    constexpr std::string_view kField = "SimpleField";
    std::ofstream out{to, std::ios::binary};
    std::size_t done = 0;
    for (std::size_t at = text.find(kField); at != std::string::npos; at = text.find(kField, at)) {
        const std::size_t end = std::min(text.find('>', at), text.size());
        std::string element = text.substr(at, end - at);
        make_text_of(element);
        out << std::string_view{text}.substr(done, at - done) << element;
        done = at = end;
    }
    out << std::string_view{text}.substr(done);
    out.close();
    if (!out) {
        throw DataError{from.string(),
                        "",
                        "it has to be read through a copy; free some space in the folder for "
                        "temporary files, or name another in TMPDIR"};
    }
}

/// A MapInfo interchange file whose columns are all declared as text, its table beside it.
void copy_mif_without_types(const fs::path& from, const fs::path& to) {
    std::ifstream in{from, std::ios::binary};
    std::ofstream out{to, std::ios::binary};
    std::string line;
    for (int columns = 0; std::getline(in, line);) {
        std::istringstream words{line};
        std::string word;
        words >> word;
        if (columns > 0) {
            --columns;
            line = "  " + word + " Char(254)";
        } else if (same_name(word, "columns")) {
            words >> columns;
        } else if (same_name(word, "data")) {
            out << line << '\n' << in.rdbuf();
            break;
        }
        out << line << '\n';
    }
    for (const char* const kind : {".mid", ".MID"}) {
        const fs::path table = fs::path{from}.replace_extension(kind);
        std::error_code error;
        if (fs::is_regular_file(table, error)) {
            fs::create_symlink(fs::absolute(table), fs::path{to}.replace_extension(kind), error);
        }
    }
}

/// The same layer read a second time, row by row beside the first.
class TextTwin final : public WrittenCells {
public:
    TextTwin(const std::string& file, const std::string& driver) : place_{file} {
        if (driver == "GML") {
            fs::create_symlink(fs::absolute(file), place_.path());  // nothing beside it says types
        } else if (driver == "MapInfo File") {
            copy_mif_without_types(file, place_.path());
        } else {
            copy_without_types(file, place_.path());
        }
        const AllText text;
        const ErrorCollector quiet;
        CPLStringList options;
        options.AddString("WRITE_GFS=NO");
        options.AddString("EMPTY_AS_NULL=NO");
        options.AddString("DOWNLOAD_SCHEMA=NO");
        dataset_.reset(GDALDataset::Open(place_.path().c_str(),
                                         GDAL_OF_VECTOR | GDAL_OF_READONLY,
                                         nullptr,
                                         driver == "GML" ? options.List() : nullptr));
    }

    bool open_layer(const std::string& name, const LayerSchema& schema) {
        if (!dataset_) {
            return false;
        }
        const ErrorCollector quiet;
        layer_ = name.empty() ? dataset_->GetLayer(0) : dataset_->GetLayerByName(name.c_str());
        for (std::size_t i = 0; layer_ != nullptr && i < schema.fields.size(); ++i) {
            OGRFeatureDefn& defn = *layer_->GetLayerDefn();
            const int at = defn.GetFieldIndex(schema.fields[i].name.c_str());
            places_.push_back(at >= 0 && defn.GetFieldDefn(at)->GetType() == OFTString ? at : -1);
        }
        return layer_ != nullptr;
    }

    bool go_to(std::int64_t fid) override {
        const AllText text;
        const ErrorCollector quiet;
        do {
            feature_.reset(layer_->GetNextFeature());
        } while (feature_ && feature_->GetFID() != fid);
        return feature_ != nullptr;
    }

    std::optional<std::string_view> cell(std::size_t column) override {
        const int place = places_[column];
        if (place < 0) {
            return std::nullopt;
        }
        return feature_->IsFieldSetAndNotNull(place) != 0 ? feature_->GetFieldAsString(place)
                                                          : std::string_view{};
    }

private:
    StandIn place_;  // ends after the dataset
    GDALDatasetUniquePtr dataset_;
    OGRLayer* layer_ = nullptr;
    OGRFeatureUniquePtr feature_;
    std::vector<int> places_;
};

}  // namespace

std::unique_ptr<WrittenCells> open_text_twin(const std::string& file,
                                             const std::string& driver,
                                             const std::string& inner_name,
                                             const LayerSchema& schema) {
    std::error_code error;
    const bool binary =
        driver == "MapInfo File" && !same_name(fs::path{file}.extension().string(), ".mif");
    if (binary || !fs::is_regular_file(file, error)) {
        return nullptr;
    }
    auto twin = std::make_unique<TextTwin>(file, driver);
    return twin->open_layer(inner_name, schema) ? std::move(twin) : nullptr;
}

}  // namespace linewood
