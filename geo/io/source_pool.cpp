#include "geo/io/source_pool.h"

#include <algorithm>
#include <array>
#include <system_error>

#include "geo/io/composition.h"
#include "geo/io/gpkg_styles.h"
#include "geo/io/row_stream.h"
#include "geo/io/sheet_places.h"
#include "geo/io/virtual_copy.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

constexpr const char* kDictionary = "fields.csv";  // of columns, in every folder the tool writes
constexpr std::size_t kIdleHandles = 3;            // kept open for the next pass

std::string lower_extension(const fs::path& path) {
    std::string extension = path.extension().string();
    std::transform(extension.begin(), extension.end(), extension.begin(), [](char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    });
    return extension;
}

bool is_one_of(std::string_view extension, std::initializer_list<std::string_view> list) {
    return std::find(list.begin(), list.end(), extension) != list.end();
}

/// How layers are drawn, not data: desktop clients put this table beside the layers.
bool is_style_table(OGRLayer& layer) {
    return same_name(layer.GetName(), kStyleTable) &&
           layer.GetLayerDefn()->GetFieldIndex("styleQML") >= 0;
}

/// Files that hold exactly one layer, called by its stem in a folder.
bool is_layer_file(const fs::path& path) {
    const std::string extension = lower_extension(path);
    if (extension == ".dbf") {  // a table of its own only where there is no shape beside it
        std::error_code error;
        return !fs::exists(fs::path{path}.replace_extension(".shp"), error) &&
               !fs::exists(fs::path{path}.replace_extension(".SHP"), error) &&
               !fs::exists(fs::path{path}.replace_extension(".tab"), error);
    }
    return is_one_of(extension,
                     {".csv",
                      ".tsv",
                      ".geojson",
                      ".geojsonl",
                      ".geojsons",
                      ".geojsonseq",
                      ".ndjson",
                      ".json",
                      ".fgb",
                      ".shp",
                      ".tab",
                      ".mif"});
}

/// Files that may hold several layers, with names of their own.
bool is_container_file(const fs::path& path) {
    return is_one_of(lower_extension(path), {".gpkg", ".gml", ".kml", ".gpx", ".xlsx", ".ods"});
}

/// A `.json` may be anything (a job file, for one): only what GDAL takes for features is a layer.
bool is_foreign_json(const fs::path& path) {
    if (lower_extension(path) != ".json") {
        return false;
    }
    const ErrorCollector quiet;
    return GDALIdentifyDriverEx(path.c_str(), GDAL_OF_VECTOR, nullptr, nullptr) == nullptr;
}

std::string join(const std::vector<std::string>& names) {
    std::string out;
    for (const std::string& name : names) {
        out += out.empty() ? "" : ", ";
        out += name;
    }
    return out;
}

}  // namespace

LayerLoan::LayerLoan(std::shared_ptr<SourcePool> pool,
                     std::string file,
                     GDALDatasetUniquePtr dataset,
                     OGRLayer* layer)
    : pool_{std::move(pool)}, file_{std::move(file)}, dataset_{std::move(dataset)}, layer_{layer} {}

LayerLoan::~LayerLoan() {
    if (!dataset_) {
        return;
    }
    const ErrorCollector quiet;
    if (spoilt_) {
        dataset_.reset();
        return;
    }
    layer_->SetIgnoredFields(nullptr);
    layer_->ResetReading();
    pool_->give_back(file_, std::move(dataset_));
}

SourcePool::SourcePool(std::string dataset) : dataset_{std::move(dataset)} {}
SourcePool::~SourcePool() = default;

std::shared_ptr<SourcePool> SourcePool::compose(std::string name, std::vector<LayerPart> parts) {
    std::string datasets;
    for (const LayerPart& part : parts) {
        const std::string& dataset = part.source.dataset();
        if (datasets.find(dataset) == std::string::npos) {
            datasets += (datasets.empty() ? "" : ", ") + dataset;
        }
    }
    std::shared_ptr<SourcePool> pool{new SourcePool{datasets}};
    pool->names_.push_back(name);
    pool->composition_ = std::make_unique<const Composition>(std::move(name), std::move(parts));
    pool->driver_ = pool->composition_->keeps_fids()
                        ? pool->composition_->parts().front().source.driver()
                        : "composed";
    return pool;
}

std::shared_ptr<SourcePool> SourcePool::open(const std::string& dataset) {
    start_gdal();
    std::shared_ptr<SourcePool> pool{new SourcePool{dataset}};
    std::error_code error;
    const fs::path path{dataset};
    if (fs::is_directory(path, error) && lower_extension(path) != ".gdb") {
        pool->list_folder(path);
    } else if (is_virtual_folder(dataset)) {
        pool->unpacked_ = copy_from_virtual(dataset, dataset);
        pool->unpacked_ ? pool->list_folder(pool->unpacked_->folder())
                        : pool->add_layers_of(dataset);
    } else {
        pool->add_layers_of(dataset);
    }
    return pool;
}

namespace {

/// Is `file` the rest of `layer`'s rows, as the tool writes it where a format cannot hold them all in one file?
bool is_part(const fs::path& layer, const fs::path& file) {
    const std::string kind = lower_extension(file);
    const std::string stem = file.stem().string();
    const std::string name = layer.stem().string();
    if (stem.size() <= name.size() || stem.rfind(name + "_", 0) != 0) {
        return false;
    }
    const std::string suffix = stem.substr(name.size());
    if (kind == ".csv") {
        return (suffix == "_nogeom" && is_one_of(lower_extension(layer), {".fgb", ".shp"})) ||
               (suffix == "_othergeom" && is_one_of(lower_extension(layer), {".shp"}));
    }
    return kind == ".shp" && lower_extension(layer) == ".shp" &&
           is_one_of(suffix.substr(0, suffix.find('_', 1)),
                     {"_point", "_multipoint", "_line", "_polygon"});
}

/// The layer that a file's name says it is a part of, as the tool names them; nothing where it says none.
std::optional<std::string> layer_of_part(const fs::path& file) {
    const auto without = [](std::string& stem, std::initializer_list<std::string_view> endings) {
        for (const std::string_view ending : endings) {
            if (stem.size() > ending.size() &&
                stem.compare(stem.size() - ending.size(), ending.size(), ending) == 0) {
                stem.resize(stem.size() - ending.size());
                return true;
            }
        }
        return false;
    };
    std::string stem = file.stem().string();
    const std::string kind = lower_extension(file);
    if (kind == ".csv" && without(stem, {"_nogeom", "_othergeom"})) {
        return stem;
    }
    if (kind == ".shp") {
        without(stem, {"_m"});
        without(stem, {"_z"});
        if (without(stem, {"_point", "_multipoint", "_line", "_polygon"})) {
            return stem;
        }
    }
    return std::nullopt;
}

/// What both kinds of geometry fit into.
GeometryType both(GeometryType a, const GeometryType& b) {
    if (a.kind == GeometryKind::none || b.kind == GeometryKind::none) {
        return a.kind == GeometryKind::none ? b : a;
    }
    if (a.kind != b.kind || a.multi != b.multi) {
        a.kind = GeometryKind::mixed;
        a.multi = false;
    }
    a.has_z = a.has_z || b.has_z;
    a.has_m = a.has_m || b.has_m;
    return a;
}

}  // namespace

void SourcePool::join_parts(const fs::path& folder) {
    // Both are in every folder the tool writes; in another, such names are the owner's business.
    own_folder_ = fs::exists(folder / kDictionary) && has("run");
    if (!own_folder_) {
        return;
    }
    std::vector<Entry> layers;
    std::vector<std::pair<std::string, Entry>> parts;  // by the file they belong to
    // By layer: those of mixed geometry, of which no file has the layer's own name.
    std::map<std::string, std::vector<Entry>> headless;
    for (const Entry& entry : entries_) {
        if (fs::path{entry.file}.filename() == kDictionary) {
            continue;  // says what the columns mean, and is none of the layers
        }
        const auto whole = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& other) {
            return is_part(other.file, entry.file);
        });
        const auto layer = layer_of_part(entry.file);
        if (whole != entries_.end()) {
            parts.emplace_back(whole->file, entry);
        } else if (layer && !has(*layer)) {
            headless[*layer].push_back(entry);
        } else {
            layers.push_back(entry);
        }
    }
    for (auto& [name, files] : headless) {
        // The first shape's file stands for the layer.
        std::stable_partition(files.begin(), files.end(), [](const Entry& entry) {
            return lower_extension(entry.file) == ".shp";
        });
        layers.push_back({name, files.front().file, files.front().inner_name});
        for (std::size_t i = 1; i < files.size(); ++i) {
            parts.emplace_back(files.front().file, files[i]);
        }
    }
    const std::size_t named = layers.size();
    for (const auto& [file, entry] : parts) {
        for (std::size_t i = 0; i < named; ++i) {
            if (layers[i].file == file) {
                layers[i].parts.push_back(layers.size());
            }
        }
        layers.push_back(entry);
    }
    entries_ = std::move(layers);
    names_.resize(named);
    for (std::size_t i = 0; i < named; ++i) {
        names_[i] = entries_[i].name;
    }
}

void SourcePool::list_folder(const fs::path& folder) {
    driver_ = "folder";
    std::vector<fs::path> files;
    std::error_code error;
    for (fs::directory_iterator it{folder, error}, end; !error && it != end; it.increment(error)) {
        const fs::path& path = it->path();
        std::error_code unreadable;  // a link that leads nowhere, or to itself
        if (path.filename().string().front() != '.' && it->is_regular_file(unreadable)) {
            files.push_back(path);
        }
    }
    if (error) {
        throw DataError{dataset_, "", "the folder cannot be listed: " + error.message()};
    }
    std::sort(files.begin(), files.end());
    for (const fs::path& file : files) {
        if (is_container_file(file)) {
            add_layers_of(file.string());
        } else if (is_layer_file(file) && !is_foreign_json(file)) {
            entries_.push_back({file.stem().string(), file.string(), ""});
            names_.push_back(entries_.back().name);
        }
    }
    driver_ = "folder";
    if (entries_.empty()) {
        throw DataError{dataset_,
                        "",
                        "the folder holds no vector layer; put one file per layer there "
                        "(poles.geojson, spans.fgb, inspections.csv ...)"};
    }
    join_parts(folder);
}

void SourcePool::add_layers_of(const std::string& file) {
    GDALDatasetUniquePtr dataset = take(file);
    driver_ = dataset->GetDriver() == nullptr ? "" : dataset->GetDriver()->GetDescription();
    const std::size_t before = entries_.size();
    for (int i = 0; i < dataset->GetLayerCount(); ++i) {
        if (is_style_table(*dataset->GetLayer(i))) {
            continue;
        }
        const std::string name = dataset->GetLayer(i)->GetName();
        entries_.push_back({name, file, name});
        names_.push_back(name);
    }
    if (entries_.size() == before) {
        throw DataError{file, "", "the dataset holds no vector layer"};
    }
    give_back(file, std::move(dataset));
}

bool SourcePool::has(std::string_view layer) const {
    return std::any_of(
        names_.begin(), names_.end(), [&](const std::string& n) { return same_name(n, layer); });
}

std::size_t SourcePool::find(std::string_view layer) const {
    std::vector<std::size_t> exact;
    std::vector<std::size_t> without_case;
    for (std::size_t i = 0; i < names_.size(); ++i) {
        if (names_[i] == layer) {
            exact.push_back(i);
        }
        if (same_name(names_[i], layer)) {
            without_case.push_back(i);
        }
    }
    const auto& hits = exact.empty() ? without_case : exact;
    if (hits.size() == 1) {
        return hits.front();
    }
    const std::string asked{layer};
    if (hits.empty()) {
        throw DataError{
            dataset_, "", "there is no layer '" + asked + "'; the layers are: " + join(names_)};
    }
    std::vector<std::string> files;
    files.reserve(hits.size());
    for (const std::size_t i : hits) {
        files.push_back(fs::path{entries_[i].file}.filename().string());
    }
    throw DataError{
        dataset_,
        asked,
        "several files could be meant (" + join(files) + "); remove or rename all but one"};
}

GDALDatasetUniquePtr SourcePool::take(const std::string& file) {
    {
        const std::lock_guard lock{mutex_};
        const auto it = idle_.find(file);
        if (it != idle_.end()) {
            GDALDatasetUniquePtr dataset = std::move(it->second);
            idle_.erase(it);
            return dataset;
        }
    }
    return open_for_reading(read_path(file), file);
}

std::string SourcePool::read_path(const std::string& file) {
    const auto other = stand_in(file);
    return other ? other->path().string() : file;
}

std::shared_ptr<const StandIn> SourcePool::stand_in(const std::string& file) {
    const std::lock_guard lock{mutex_};
    const auto known = stand_ins_.find(file);
    if (known != stand_ins_.end()) {
        return known->second;
    }
    return stand_ins_.emplace(file, stand_in_for(file)).first->second;
}

const std::vector<PlacedDamage>& SourcePool::damage(const std::string& file) {
    static const std::vector<PlacedDamage> kNone;
    const auto other = stand_in(file);
    return other ? other->damage : kNone;
}

const std::vector<CutText>& SourcePool::cut_texts(const std::string& file,
                                                  const std::string& driver) {
    static const std::vector<CutText> kNone;
    if (const GeoJsonScan* scan = geojson(file, driver)) {
        return scan->cut_texts;
    }
    const std::string path = read_path(file);
    std::error_code error;
    if (driver != "FlatGeobuf" || !fs::is_regular_file(path, error)) {
        return kNone;
    }
    const std::lock_guard lock{mutex_};
    const auto known = fgb_texts_.find(file);
    return known != fgb_texts_.end()
               ? known->second
               : fgb_texts_.emplace(file, cut_texts_of_fgb(path)).first->second;
}

const GeoJsonScan* SourcePool::geojson(const std::string& file, const std::string& driver) {
    std::error_code error;
    if (driver != "GeoJSON" && driver != "GeoJSONSeq") {
        return nullptr;
    }
    const std::string path = read_path(file);
    if (!fs::is_regular_file(path, error)) {
        return nullptr;
    }
    const std::lock_guard lock{mutex_};
    const auto known = geojson_.find(file);
    if (known != geojson_.end()) {
        return &known->second;
    }
    // GDAL takes a sequence whose second line is odd for one feature, and leaves out the rest.
    const bool sequence = driver == "GeoJSONSeq" ||
                          is_one_of(lower_extension(file),
                                    {".geojsonl", ".geojsons", ".geojsonseq", ".ndjson", ".jsonl"});
    return &geojson_.emplace(file, scan_geojson(path, sequence)).first->second;
}

LayerLoan SourcePool::borrow(std::size_t index) {
    const Entry& entry = entries_[index];
    GDALDatasetUniquePtr dataset = take(entry.file);
    ErrorCollector errors;
    OGRLayer* layer = entry.inner_name.empty() ? dataset->GetLayer(0)
                                               : dataset->GetLayerByName(entry.inner_name.c_str());
    if (layer == nullptr) {
        throw_gdal_error(entry.file, entry.name, "opening the layer", errors);
    }
    return {shared_from_this(), entry.file, std::move(dataset), layer};
}

void SourcePool::give_back(const std::string& file, GDALDatasetUniquePtr dataset) noexcept {
    const std::lock_guard lock{mutex_};
    if (idle_.size() < kIdleHandles) {
        idle_.emplace(file, std::move(dataset));
    }
}

const LayerSchema& SourcePool::schema(std::size_t index) {
    if (composition_) {
        return composition_->schema();
    }
    {
        const std::lock_guard lock{mutex_};
        const auto it = schemas_.find(index);
        if (it != schemas_.end()) {
            return *it->second;
        }
    }
    LayerLoan loan = borrow(index);
    ErrorCollector errors;
    auto schema = std::make_unique<LayerSchema>(schema_of(loan.layer()));
    read_column_notes(loan.dataset(), *schema);
    add_sheet_places(driver_name(loan.dataset()), entries_[index].file, *schema);
    if (errors.failed()) {
        loan.spoil();
        throw_gdal_error(entries_[index].file, entries_[index].name, "reading the columns", errors);
    }
    schema->name = entries_[index].name;
    for (const std::size_t part : entries_[index].parts) {
        const std::string& name = entries_[part].name;
        if (name.rfind("_nogeom") == std::string::npos) {
            schema->geometry = both(schema->geometry, this->schema(part).geometry);
        }
    }
    const std::lock_guard lock{mutex_};
    return *schemas_.try_emplace(index, std::move(schema)).first->second;
}

std::vector<fs::path> SourcePool::files(const std::string& file) {
    std::error_code error;
    if (!fs::exists(file, error)) {
        return {};
    }
    GDALDatasetUniquePtr dataset = take(file);
    std::vector<fs::path> out;
    if (stand_in(file)) {
        for (const std::string& own : {file, file + "-wal"}) {
            if (fs::is_regular_file(own, error)) {
                out.push_back(fs::absolute(own));
            }
        }
    } else {
        const ErrorCollector quiet;
        const CPLStringList list{dataset->GetFileList()};
        for (int i = 0; i < list.Count(); ++i) {
            if (fs::is_regular_file(list[i], error)) {
                out.push_back(fs::absolute(list[i]));
            }
        }
        const std::string prj = sheet_prj(file);
        if (is_sheet_driver(driver_name(*dataset)) && !prj.empty()) {
            out.push_back(fs::absolute(prj));
        }
    }
    give_back(file, std::move(dataset));
    if (out.empty() && fs::is_regular_file(file, error)) {
        out.push_back(fs::absolute(file));
    }
    std::sort(out.begin(), out.end());
    return out;
}

std::vector<fs::path> SourcePool::layer_files(std::size_t index) {
    if (composition_) {
        return all_files();
    }
    std::vector<fs::path> out = files(entries_[index].file);
    for (const std::size_t part : entries_[index].parts) {
        const auto more = files(entries_[part].file);
        out.insert(out.end(), more.begin(), more.end());
    }
    return out;
}

std::vector<fs::path> SourcePool::all_files() {
    std::vector<fs::path> out;
    for (std::size_t i = 0; composition_ && i < composition_->parts().size(); ++i) {
        const LayerPart& part = composition_->parts()[i];
        const auto some = part.source.files(part.layer);
        out.insert(out.end(), some.begin(), some.end());
    }
    for (const Entry& entry : entries_) {
        const auto some = files(entry.file);
        out.insert(out.end(), some.begin(), some.end());
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

}  // namespace linewood
