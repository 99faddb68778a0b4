#include "src/site/site_overlays.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "geo/io/data_error.hpp"
#include "src/job/checksum.hpp"
#include "src/pipeline/open_layer.hpp"
#include "src/site/site_pages.hpp"
#include "src/site/site_text.hpp"

namespace linewood {
namespace {

struct KnownLayer {
    const char* layer;
    const char* name;
    const char* title;
    bool visible;
};

constexpr std::array kClusterLayers{KnownLayer{"rates", "rates", "Rates of decay by area", false},
                                    KnownLayer{"clusters", "clusters", "Clusters of decay", true}};
constexpr std::array kCorridorLayers{
    KnownLayer{"corridors", "corridors", "Corridors", false},
    KnownLayer{"bad_stretches", "bad_stretches", "Bad stretches", false}};
constexpr std::array kProjectLayers{KnownLayer{"projects", "projects", "Projects", true}};

class OverlayOpening {
public:
    OverlayOpening(const SiteJob& job, const Source& source) : job_{job}, source_{source} {}

    Overlays open() {
        overlays_.read = source_.files();
        for (const std::filesystem::path& file : overlays_.read) {
            checksums_.insert(sha256_of_file(file));
        }
        add_backgrounds();
        add_dataset(job_.clusters, "Clusters", "clusters", kClusterLayers);
        add_dataset(job_.corridors, "Corridors", "corridors", kCorridorLayers);
        add_lines();
        add_dataset(job_.projects, "Projects", "projects", kProjectLayers);
        add_own("defects", "Defects");
        add_own("findings", "Doubts about the data");
        overlays_.read.insert(overlays_.read.end(), job_.pages.begin(), job_.pages.end());
        return std::move(overlays_);
    }

private:
    void add_backgrounds() {
        std::size_t number = 0;
        for (const SiteBackground& b : job_.backgrounds) {
            const InputLayerRef ref = open_layer(b.dataset, "");
            SiteLayerWish wish{
                ref.layer, "background_" + std::to_string(++number), b.title, {}, true};
            overlays_.layers.push_back({ref.source, std::move(wish), b.attribution, false});
            add_read(ref.source);
        }
    }

    template <typename Known>
    void add_dataset(const std::string& dataset,
                     const std::string& title,
                     const std::string& command,
                     const Known& known) {
        if (dataset.empty()) {
            return;
        }
        const Source source = Source::open(dataset);
        if (!source.has_layer("run") || !source.has_layer(command)) {
            throw DataError{
                dataset, "", "is not what linewood " + command + " writes; name its output"};
        }
        for (const KnownLayer& layer : known) {
            if (source.has_layer(layer.layer)) {
                overlays_.layers.push_back(
                    {source, {layer.layer, layer.name, layer.title, {}, layer.visible}, "", false});
            }
        }
        check_origin(source, command);
        overlays_.datasets.push_back({source, title});
        add_read(source);
    }

    /// Was it worked out from the very files that are published?
    void check_origin(const Source& source, const std::string& command) {
        for (const auto& [item, value] : read_provenance(source, "").statements) {
            const auto hash = value.rfind("sha256 ");
            if (item == "input_file" && hash != std::string::npos &&
                checksums_.count(value.substr(hash + 7)) > 0) {
                return;
            }
        }
        overlays_.notes.push_back("The " + command + " shown (" + shown_name(source.dataset()) +
                                  ") were worked out from another state of the dataset: run "
                                  "linewood " +
                                  command + " again, and publish then.");
    }

    void add_lines() {
        const std::string layer = source_.has_layer("line_spans") ? "line_spans" : "spans";
        if (source_.has_layer(layer)) {
            overlays_.layers.push_back(
                {source_,
                 {layer,
                  "lines",
                  "Spans",
                  {"from_pole", "to_pole", "circuit", "kind", "worst_verdict", "span_length_m"},
                  true},
                 "",
                 true});
        }
    }

    void add_own(const char* layer, const char* title) {
        if (source_.has_layer(layer) && source_.schema(layer).has_geometry()) {
            overlays_.layers.push_back({source_, {layer, layer, title, {}, false}, "", true});
        }
    }

    void add_read(const Source& source) {
        for (const std::filesystem::path& file : source.files()) {
            overlays_.read.push_back(file);
        }
    }

    const SiteJob& job_;
    const Source& source_;
    std::set<std::string> checksums_;
    Overlays overlays_;
};

}  // namespace

Overlays open_overlays(const SiteJob& job, const Source& source) {
    return OverlayOpening{job, source}.open();
}

}  // namespace linewood
