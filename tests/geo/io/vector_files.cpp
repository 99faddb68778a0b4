#include "tests/geo/io/vector_files.hpp"

#include <array>
#include <cstdio>
#include <memory>
#include <sstream>
#include <stdexcept>

#include <sys/wait.h>

#include <ogrsf_frmts.h>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {

namespace fs = std::filesystem;

const char* const kPoles = R"({"type":"FeatureCollection","features":[
{"type":"Feature","id":7,"properties":{"pole_id":"007","height":12,"girth":35.5,"note":"sound"},
 "geometry":{"type":"Point","coordinates":[-122.5,45.25]}},
{"type":"Feature","id":9,"properties":{"pole_id":"008","height":14,"girth":0.1,"note":null},
 "geometry":{"type":"Point","coordinates":[-122.25,45.5]}},
{"type":"Feature","id":12,"properties":{"pole_id":"009","height":null,"girth":null,"note":""},
 "geometry":{"type":"Point","coordinates":[-122,45]}}]})";

std::string run(const std::string& command, int* status) {
    std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    if (pipe == nullptr) {
        throw std::runtime_error("cannot run " + command);
    }
    std::string out;
    std::array<char, 4096> buffer{};
    std::size_t got = 0;
    while ((got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0) {
        out.append(buffer.data(), got);
    }
    const int code = ::pclose(pipe);
    if (status != nullptr) {
        *status = WIFEXITED(code) ? WEXITSTATUS(code) : -1;
    }
    return out;
}

namespace {

std::string shell_quoted(const std::string& text) {
    std::string out = "'";
    for (const char c : text) {
        out += c == '\'' ? std::string{"'\\''"} : std::string{c};
    }
    return out + "'";
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

}  // namespace

fs::path make_dataset(const fs::path& path,
                      const std::string& geojson,
                      const std::vector<std::string>& arguments) {
    const TempDir scratch;
    const fs::path source = scratch.file("source.geojson", geojson);
    std::string command = "ogr2ogr -preserve_fid";
    for (const std::string& argument : arguments) {
        command += " " + shell_quoted(argument);
    }
    command += " " + shell_quoted(path.string()) + " " + shell_quoted(source.string());
    int status = 0;
    const std::string said = run(command, &status);
    if (status != 0) {
        throw std::runtime_error(command + ": " + said);
    }
    return path;
}

std::vector<std::string> sql_rows(const fs::path& database, const std::string& sql) {
    const TempDir scratch;
    const fs::path script =
        scratch.file("query.py",
                     "import sqlite3, sys\n"
                     "con = sqlite3.connect(sys.argv[1])\n"
                     "con.text_factory = lambda b: b.decode('utf-8', 'replace')\n"
                     "for row in con.execute(sys.argv[2]):\n"
                     "    print('|'.join('' if c is None else str(c) for c in row))\n"
                     "con.commit()\n");
    int status = 0;
    const std::string out = run("/usr/bin/python3 " + shell_quoted(script.string()) + " " +
                                    shell_quoted(database.string()) + " " + shell_quoted(sql),
                                &status);
    if (status != 0) {
        throw std::runtime_error(out);
    }
    return lines_of(out);
}

std::vector<std::string> ogr_lines(const fs::path& path, const std::string& layer, bool with_fid) {
    GDALAllRegister();
    const GDALDatasetUniquePtr dataset{
        GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY)};
    if (!dataset) {
        throw std::runtime_error("OGR does not open " + path.string());
    }
    OGRLayer* opened =
        layer.empty() ? dataset->GetLayer(0) : dataset->GetLayerByName(layer.c_str());
    if (opened == nullptr) {
        throw std::runtime_error("OGR finds no layer " + layer);
    }
    std::vector<std::string> lines;
    for (auto& feature : *opened) {
        std::string line = with_fid ? std::to_string(feature->GetFID()) + ";" : "";
        for (int i = 0; i < feature->GetFieldCount(); ++i) {
            line += feature->GetFieldDefnRef(i)->GetNameRef();
            line += '=';
            line += feature->IsFieldSetAndNotNull(i) ? feature->GetFieldAsString(i) : "null";
            line += ';';
        }
        const OGRGeometry* geometry = feature->GetGeometryRef();
        OGRWktOptions iso;
        iso.variant = wkbVariantIso;
        lines.push_back(line + (geometry == nullptr ? "null" : geometry->exportToWkt(iso)));
    }
    return lines;
}

std::vector<std::string> read_lines(const Source& source,
                                    const std::string& layer,
                                    bool columnar,
                                    std::size_t batch_size) {
    ReadOptions options;
    options.columnar = columnar;
    options.batch_size = batch_size;
    FeatureReader reader{source, layer, options};
    FeatureBatch batch;
    std::vector<std::string> lines;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            std::string line = std::to_string(batch.fid(row)) + ";";
            for (std::size_t f = 0; f < reader.schema().fields.size(); ++f) {
                line += reader.schema().fields[f].name + "=";
                line += batch.is_null(row, f) ? "null" : batch.text(row, f);
                line += ';';
            }
            const auto point = batch.point(row);
            const auto path = batch.path(row);
            if (point.value) {
                line += std::to_string(point.value->x) + " " + std::to_string(point.value->y);
            } else if (path.value) {
                for (const auto& part : *path.value) {
                    line += "(";
                    for (const Point p : part) {
                        line += std::to_string(p.x) + " " + std::to_string(p.y) + ",";
                    }
                    line += ")";
                }
            } else {
                line += "status " + std::to_string(static_cast<int>(point.status)) +
                        std::to_string(static_cast<int>(path.status));
            }
            lines.push_back(line);
        }
    }
    return lines;
}

LayerPlan copy_plan(const LayerSchema& schema) {
    LayerPlan plan;
    plan.name = schema.name;
    plan.source = schema;
    plan.carried = plan_columns(schema.fields, {}).carried;
    plan.geometry = schema.geometry;
    plan.crs_wkt = schema.crs_wkt;
    plan.keep_fids = true;
    return plan;
}

OutputSummary copy_dataset(const Source& from,
                           const fs::path& to,
                           OutputFormat format,
                           OutputOptions options,
                           const std::function<void(LayerPlan&)>& change) {
    OutputDataset out = OutputDataset::create(to, format, std::move(options));
    for (const std::string& layer : from.layer_names()) {
        LayerPlan plan = copy_plan(from.schema(layer));
        if (change) {
            change(plan);
        }
        LayerWriter& writer = out.add_layer(plan);
        FeatureReader reader{from, layer};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                const std::vector<Cell> added(plan.added.size());
                writer.append(batch, row, added);
            }
        }
    }
    return out.finish();
}

std::string error_of(const std::function<void()>& action) {
    try {
        action();
    } catch (const DataError& error) {
        return error.what();
    }
    return {};
}

}  // namespace linewood::testing
