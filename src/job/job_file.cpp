#include "src/job/job_file.hpp"

#include <algorithm>
#include <system_error>

#include <fmt/format.h>

#include "assess/units/date.hpp"
#include "src/job/mapping_reader.hpp"
#include "src/job/nearest_word.hpp"
#include "src/job/shipped_profiles.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostBytes = std::size_t{4} << 20U;
constexpr std::size_t kMostSources = 100;
constexpr std::array<std::string_view, 5> kTopKeys{"$schema", "name", "note", "settings", "layers"};
constexpr std::array<std::string_view, 12> kSettingKeys{"snap_m",
                                                        "id_distance_m",
                                                        "nearest_line_m",
                                                        "declination_deg",
                                                        "plane_unit",
                                                        "line_where",
                                                        "poles_from_spans",
                                                        "criteria",
                                                        "wood_tables",
                                                        "units",
                                                        "today",
                                                        "threads"};
constexpr std::array<std::string_view, 3> kPlaneUnits{"m", "ft", "us-ft"};
constexpr std::array<std::string_view, 2> kUnitSystems{"us", "si"};
constexpr std::array<std::string_view, 4> kLayers{"poles", "spans", "inspections", "defects"};

/// What GDAL opens that is no path: a prefix, a virtual file, a description in XML or JSON.
bool is_connection(const std::string& dataset) {
    return dataset.rfind("/vsi", 0) == 0 || dataset.find(':') != std::string::npos ||
           dataset.front() == '<' || dataset.front() == '{';
}

/// Names of what lies in the folder of a path.
std::vector<std::string> names_beside(const fs::path& path) {
    std::vector<std::string> names;
    std::error_code error;
    for (fs::directory_iterator it{path.parent_path(), error}, end; !error && it != end;
         it.increment(error)) {
        names.push_back(it->path().filename().string());
    }
    std::sort(names.begin(), names.end());
    return names;
}

/// A file that has to be there, or is refused with the nearest of those that are.
std::string file_beside(const JsonNode& node, const fs::path& folder, const std::string& typed) {
    std::string found = dataset_beside(folder, typed);
    std::error_code error;
    if (is_connection(typed) || fs::exists(found, error)) {
        return found;
    }
    const auto names = names_beside(found);
    const std::vector<std::string_view> views(names.begin(), names.end());
    node.fail_value(fmt::format("is not there; it is looked for beside the job file, as {}{}",
                                found,
                                did_you_mean(fs::path{found}.filename().string(), views)));
}

class JobReader {
public:
    JobReader(const JsonNode& document, const fs::path& folder)
        : document_{document}, folder_{folder} {}

    JobFile read() {
        document_.only_keys(kTopKeys);
        if (const auto name = document_.find("name")) {
            job_.name = name->text(200);
        }
        if (const auto note = document_.find("note")) {
            note->free_text(kMostJobText);
        }
        if (const auto schema = document_.find("$schema")) {
            schema->text(kMostJobText);
        }
        if (const auto settings = document_.find("settings")) {
            read_settings(*settings);
        }
        if (const auto layers = document_.find("layers")) {
            read_layers(*layers);
        }
        return std::move(job_);
    }

private:
    void read_settings(const JsonNode& node) {
        node.only_keys(kSettingKeys);
        JobSettings& s = job_.settings;
        const auto number = [&](std::string_view key, double least, double most) {
            const auto found = node.find(key);
            return found ? std::optional{found->number(least, most)} : std::nullopt;
        };
        const auto text = [&](std::string_view key) {
            const auto found = node.find(key);
            return found ? std::optional{found->text(kMostJobText)} : std::nullopt;
        };
        const auto choice = [&](std::string_view key, std::span<const std::string_view> words) {
            const auto found = node.find(key);
            return found ? std::optional{std::string{words[found->choice(words)]}} : std::nullopt;
        };
        s.snap_m = number("snap_m", 0.0, 1000.0);
        s.id_distance_m = number("id_distance_m", 0.0, 1000.0);
        s.nearest_line_m = number("nearest_line_m", 0.0, 1000.0);
        s.declination_deg = number("declination_deg", -180.0, 180.0);
        s.plane_unit = choice("plane_unit", kPlaneUnits);
        s.units = choice("units", kUnitSystems);
        s.line_where = text("line_where");
        if (const auto made = node.find("poles_from_spans")) {
            s.poles_from_spans = made->boolean();
        }
        if (const auto threads = node.find("threads")) {
            const double count = threads->number(1.0, 256.0);
            if (count != static_cast<double>(static_cast<std::size_t>(count))) {
                threads->fail_value("is not a whole number");
            }
            s.threads = static_cast<std::size_t>(count);
        }
        if (const auto today = node.find("today")) {
            s.today = today->text(kMostJobText);
            if (!Date::parse(*s.today)) {
                today->fail_value("is no day; YYYY-MM-DD is wanted");
            }
        }
        read_files(node);
    }

    void read_files(const JsonNode& node) {
        if (const auto criteria = node.find("criteria")) {
            const std::string name = criteria->text(kMostJobText);
            job_.settings.criteria = shipped_profile(name) ? name : criteria_file(*criteria, name);
        }
        if (const auto tables = node.find("wood_tables")) {
            job_.settings.wood_tables = file_beside(*tables, folder_, tables->text(kMostJobText));
        }
    }

    std::string criteria_file(const JsonNode& node, const std::string& name) const {
        std::string found = dataset_beside(folder_, name);
        std::error_code error;
        if (!fs::exists(found, error)) {
            const auto names = shipped_profile_names();
            node.fail_value(
                fmt::format("is no shipped profile (\"{}\") and no file beside the job file{}",
                            fmt::join(names, "\", \""),
                            did_you_mean(name, names)));
        }
        return found;
    }

    void read_layers(const JsonNode& node) {
        node.only_keys(kLayers);
        for (std::size_t i = 0; i < kLayers.size(); ++i) {
            const auto layer = node.find(kLayers[i]);
            if (!layer) {
                continue;
            }
            if (layer->is_object()) {
                add_source(*layer, i);
                continue;
            }
            const auto items = layer->items(kMostSources);
            if (items.empty()) {
                layer->fail("the list is empty; leave the layer away, or name its sources");
            }
            for (const JsonNode& item : items) {
                add_source(item, i);
            }
        }
        must_keep_wide_rows(node);
    }

    void add_source(const JsonNode& node, std::size_t layer) {
        SourceMapping mapping = read_source(node, static_cast<InputLayer>(layer));
        if (!mapping.dataset.empty()) {
            mapping.dataset = file_beside(node.at("source"), folder_, mapping.dataset);
        }
        job_.layers[layer].push_back(std::move(mapping));
    }

    /// The columns of a wide table are in the output only where its rows are.
    void must_keep_wide_rows(const JsonNode& node) const {
        for (std::size_t layer = 0; layer < job_.layers.size(); ++layer) {
            for (const SourceMapping& wide : job_.layers[layer]) {
                if (!wide.groups.empty() && !is_kept(wide)) {
                    node.fail(fmt::format(
                        "{}: rows made from repeated columns leave the wide rows behind, and "
                        "nothing may be lost: let the same source and layer feed \"inspections\" "
                        "or \"poles\" too",
                        wide.path));
                }
            }
        }
    }

    bool is_kept(const SourceMapping& wide) const {
        for (const auto& sources : job_.layers) {
            for (const SourceMapping& other : sources) {
                if (other.groups.empty() && other.dataset == wide.dataset &&
                    other.layer == wide.layer &&
                    (other.where.empty() || other.where == wide.where)) {
                    return true;
                }
            }
        }
        return false;
    }

    const JsonNode& document_;
    const fs::path& folder_;
    JobFile job_;
};

}  // namespace

std::string dataset_beside(const fs::path& folder, const std::string& dataset) {
    std::error_code error;
    const fs::path beside = folder / dataset;  // an absolute path stays one
    if (is_connection(dataset) && !fs::exists(beside, error)) {
        return dataset;
    }
    return beside.string();
}

JobFile read_job(std::string_view json_text, const fs::path& folder) {
    const auto document = parse_strict_json(json_text, "job", kMostBytes, JsonComments::allowed);
    const JsonNode node{document};
    return JobReader{node, folder}.read();
}

}  // namespace linewood
