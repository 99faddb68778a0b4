#include <fstream>
#include <optional>

#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

/// What a format that OGR writes row by row asks for.
struct FormatHabits {
    OutputFormat format;
    const char* extension;
};

constexpr FormatHabits kLines{OutputFormat::geojsonl, ".geojsonl"};
constexpr FormatHabits kGml{OutputFormat::gml, ".gml"};
constexpr FormatHabits kKml{OutputFormat::kml, ".kml"};

CPLStringList dataset_options(OutputFormat format) {
    CPLStringList options;
    if (format == OutputFormat::gml) {
        options.SetNameValue("FORMAT", "GML3.2");
        options.SetNameValue("WRITE_FEATURE_BOUNDED_BY", "NO");
    }
    return options;
}

CPLStringList layer_options(OutputFormat format) {
    CPLStringList options;
    if (format == OutputFormat::geojsonl) {
        options.SetNameValue("RS", "NO");
        options.SetNameValue("COORDINATE_PRECISION", "7");
    }
    return options;
}

/// One file that OGR writes row by row.
class OgrFileLayer final : public LayerSink {
public:
    OgrFileLayer(const fs::path& folder,
                 const LayerPlan& plan,
                 const FormatHabits& habits,
                 std::string shown)
        : LayerSink{plan},
          habits_{habits},
          path_{folder / (plan.name + habits.extension)},
          shown_{std::move(shown)},
          columns_{out_columns(plan_, habits.format)} {
        dataset_ = create_dataset(path_, habits_.format, dataset_options(habits_.format), shown_);
        file_.emplace(
            *dataset_, plan_, columns_, habits_.format, layer_options(habits_.format), shown_);
    }

    void close() override {
        file_.reset();
        close_dataset(dataset_, shown_, plan_.name);
        check_count(count(), count_rows(), shown_, plan_.name);
    }
    void drop() noexcept override {
        const ErrorCollector quiet;
        file_.reset();
        dataset_.reset();
    }
    LayerSummary summary() const override {
        LayerSummary out = LayerSink::summary();
        out.files.push_back(file_name());
        if (habits_.format == OutputFormat::gml) {
            out.files.push_back(plan_.name + ".xsd");
        }
        return out;
    }
    void add_notes(std::vector<OutputNote>& notes) const override {
        LayerSink::add_notes(notes);
        add_plane_note(notes);
    }
    std::vector<OutputNote> losses() const override {
        std::vector<OutputNote> notes = LayerSink::losses();
        add_plane_note(notes);
        return notes;
    }
    const std::vector<OutColumn>& columns() const override { return columns_; }
    std::string file_name() const override { return plan_.name + habits_.extension; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        file_->write(plan_, input, std::move(geometry), fid_for(input));
    }

private:
    /// As a reader finds them. Of lines and KML that is their text, since to parse them again costs as much
    /// as all the rest, and there the end of the file shows whether it is whole.
    std::int64_t count_rows() const {
        switch (habits_.format) {
            case OutputFormat::geojsonl:
                return count_texts("{ \"type\": \"Feature\"", "}");
            case OutputFormat::kml:
                return count_texts("  <Placemark", "</Document></kml>");
            default:
                return count_texts("    <ogr:" + plan_.name + " gml:id=",
                                   "</ogr:FeatureCollection>");
        }
    }

    /// Lines that begin with `begin`; -1 where the last line does not end in `end`.
    std::int64_t count_texts(const std::string& begin, const std::string& end) const {
        std::ifstream in{path_, std::ios::binary};
        std::int64_t found = 0;
        std::string last;
        for (std::string line; std::getline(in, line);) {
            found += line.rfind(begin, 0) == 0 ? 1 : 0;
            if (!line.empty()) {
                last = line.size() > end.size() ? line.substr(line.size() - end.size()) : line;
            }
        }
        return last == end || count() == 0 ? found : -1;
    }

    /// OGR writes such coordinates without a system, and with that without their unit.
    void add_plane_note(std::vector<OutputNote>& notes) const {
        const SrsPtr stated = srs_from_wkt(plan_.crs_wkt, shown_, plan_.name);
        if (plan_.geometry.kind != GeometryKind::none && stated && stated->IsLocal() != 0) {
            const char* unit = nullptr;
            stated->GetLinearUnits(&unit);
            notes.push_back(
                {plan_.name,
                 "",
                 "GML cannot name a plane of its own: the coordinates stand there without "
                 "a system, in the unit " +
                     std::string{unit == nullptr ? "metre" : unit} +
                     "; read it again with --plane-unit"});
        }
    }

    FormatHabits habits_;
    fs::path path_;
    std::string shown_;
    std::vector<OutColumn> columns_;
    GDALDatasetUniquePtr dataset_;
    std::optional<OgrLayerFile> file_;
};

}  // namespace

std::unique_ptr<LayerSink> make_ogr_layer(const fs::path& folder,
                                          const LayerPlan& plan,
                                          OutputFormat format,
                                          const std::string& shown) {
    const FormatHabits& habits = format == OutputFormat::gml   ? kGml
                                 : format == OutputFormat::kml ? kKml
                                                               : kLines;
    return std::make_unique<OgrFileLayer>(folder, plan, habits, shown);
}

}  // namespace linewood
