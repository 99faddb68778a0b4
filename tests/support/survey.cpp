#include "tests/support/survey.hpp"

#include <algorithm>
#include <memory>
#include <mutex>
#include <stdexcept>

#include <cpl_error.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include "tests/support/survey_gdal.hpp"

namespace linewood::testing {
namespace {

bool is_hidden(const std::string& key) { return key.rfind('@', 0) == 0; }

std::string point_wkt(double x, double y) { return OGRPoint{x, y}.exportToWkt(OGRWktOptions{}); }

}  // namespace

void start_gdal() {
    static std::once_flag once;
    std::call_once(once, [] { GDALAllRegister(); });
}

[[noreturn]] void fail(const std::string& what) {
    throw std::runtime_error{what + ": " + CPLGetLastErrorMsg()};
}

std::unique_ptr<OGRSpatialReference> reference(const std::string& crs) {
    if (crs.empty()) {
        return nullptr;
    }
    auto srs = std::make_unique<OGRSpatialReference>();
    if (srs->SetFromUserInput(crs.c_str()) != OGRERR_NONE) {
        fail(crs);
    }
    srs->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    return srs;
}

std::vector<std::string> Table::columns() const {
    std::vector<std::string> all;
    const auto take = [&](const std::string& column) {
        if (!is_hidden(column) && std::find(all.begin(), all.end(), column) == all.end()) {
            all.push_back(column);
        }
    };
    for (const std::string& column : first_columns) {
        take(column);
    }
    for (const Row& r : rows) {
        for (const auto& item : r.items()) {
            take(item.key());
        }
    }
    for (const auto& [column, type] : types) {
        take(column);
    }
    return all;
}

bool Table::has_column(std::string_view column) const {
    const auto all = columns();
    return std::find(all.begin(), all.end(), column) != all.end();
}

const Row& Table::row(std::string_view column, const Row& value) const {
    const Row* found = nullptr;
    for (const Row& r : rows) {
        const auto at = r.find(std::string{column});
        if (at != r.end() && *at == value) {
            if (found != nullptr) {
                throw std::out_of_range{name + ": two rows with " + value.dump()};
            }
            found = &r;
        }
    }
    if (found == nullptr) {
        throw std::out_of_range{name + ": no row with " + value.dump()};
    }
    return *found;
}

Table& Table::fill(const std::string& column, const Row& value) {
    for (Row& r : rows) {
        r[column] = value;
    }
    return *this;
}

Row& Survey::add_pole(std::string_view id, double x, double y, const Row& more) {
    Row row{{"@wkt", point_wkt(x0 + x, y0 + y)}, {"pole_id", id}};
    merge(row, more);
    poles.rows.push_back(std::move(row));
    return poles.rows.back();
}

Row& Survey::add_span(const std::vector<std::pair<double, double>>& path, const Row& more) {
    OGRLineString line;
    for (const auto& [x, y] : path) {
        line.addPoint(x0 + x, y0 + y);
    }
    Row row{{"@wkt", line.exportToWkt(OGRWktOptions{})}};
    merge(row, more);
    spans.rows.push_back(std::move(row));
    return spans.rows.back();
}

Row& Survey::add_visit(std::string_view pole, std::string_view date, const Row& more) {
    Row row{{"pole_id", pole}};
    row["inspected_on"] = date.empty() ? Row(nullptr) : Row(date);
    merge(row, more);
    inspections.rows.push_back(std::move(row));
    return inspections.rows.back();
}

Row& Survey::add_defect(std::string_view pole, std::string_view kind, const Row& more) {
    Row row{{"pole_id", pole}, {"kind", kind}};
    merge(row, more);
    defects.rows.push_back(std::move(row));
    return defects.rows.back();
}

void Survey::set_crs(const std::string& crs) {
    for (Table* table : {&poles, &spans, &inspections, &defects}) {
        if (!table->geometry.empty()) {
            table->crs = crs;
        }
    }
}

Survey five_poles() {
    Survey s;
    const char* const names[] = {"A", "B", "C", "D", "E"};
    for (int i = 0; i < 5; ++i) {
        s.add_pole(names[i], 0.0, 40.0 * i);
    }
    s.add_span({{0, 0}, {0, 40}, {0, 80}, {0, 120}, {0, 160}}, {{"circuit", "north"}});
    const Row sound{
        {"method", "excavated"}, {"original_circumference", 40.0}, {"present_circumference", 40.0}};
    for (const char* const pole : {"A", "B", "C", "D"}) {
        s.add_visit(pole, "2024-05-01", sound);
    }
    // An even shell all round: 1 - (1 - 2 pi t / 40)^4 of the strength is left.
    s.add_defect("B", "internal_rot", {{"height", 0.0}, {"shell_thickness", 3.5}});
    s.add_defect("C", "internal_rot", {{"height", 0.0}, {"shell_thickness", 1.0}});
    s.add_defect("C", "bore", {{"height", 2.0}});
    s.add_defect("D", "internal_rot", {{"height", 6.0}, {"shell_thickness", 0.75}});
    return s;
}

Survey odd_network() {
    Survey s;
    const std::pair<const char*, Position> places[] = {{"T1", {-120, 0}},
                                                       {"T2", {-80, 1}},
                                                       {"T3", {-40, 0}},
                                                       {"J", {0, 0}},
                                                       {"E1", {45, 3}},
                                                       {"N1", {-2, 41}},
                                                       {"N2", {24, 72}}};
    for (const auto& [id, at] : places) {
        s.add_pole(id, at.first, at.second);
        s.add_visit(id,
                    "2024-05-01",
                    {{"method", "excavated"},
                     {"original_circumference", 40.0},
                     {"present_circumference", 38.5}});
    }
    s.add_span({{-120, 0}, {-80, 1}, {-40, 0}, {0, 0}}, {{"circuit", "1"}, {"voltage_kv", 12.0}});
    s.add_span({{0, 0}, {45, 3}}, {{"circuit", "1"}, {"voltage_kv", 12.0}});
    s.add_span({{0, 0}, {-2, 41}, {24, 72}}, {{"circuit", "2"}, {"voltage_kv", 4.0}});
    const Row nowhere{{"azimuth", nullptr}, {"azimuth_ref", "true"}};
    const auto add = [&](const char* pole, const char* kind, const Row& more) {
        merge(merge(s.add_defect(pole, kind, {{"height", 0.0}}), nowhere), more);
    };
    add("T2", "external_pocket", {{"position", "out_of_line"}, {"width", 5.0}, {"depth", 2.5}});
    add("T2", "external_pocket", {{"position", nullptr}, {"width", 3.0}, {"depth", 1.5}});
    add("T3", "internal_rot", {{"azimuth", 17.0}, {"shell_thickness", 2.5}});
    add("T3", "internal_rot", {{"azimuth", 200.0}, {"shell_thickness", 3.5}});
    add("T3",
        "external_pocket",
        {{"azimuth", 111.0}, {"width", 4.0}, {"depth", 1.0}, {"height", 3.0}});
    // No section is its own mirror image: which direction is weakest is then beyond doubt.
    add("T3",
        "external_pocket",
        {{"azimuth", 145.0}, {"width", 2.0}, {"depth", 1.5}, {"height", 3.0}});
    add("J", "external_pocket", {{"azimuth", 340.0}, {"width", 2.0}, {"depth", 2.0}});
    add("N1", "external_pocket", {{"azimuth", 30.0}, {"width", 2.0}, {"depth", 2.0}});
    add("J", "external_pocket", {{"azimuth", 301.0}, {"width", 6.0}, {"depth", 3.0}});
    add("N1", "external_pocket", {{"azimuth", 77.0}, {"width", 6.0}, {"depth", 3.0}});
    add("N1", "bore", {{"azimuth", 250.0}});
    add("N2", "shell_rot", {{"depth", 0.5}});
    return s;
}

namespace {

/// Gives every geometry of a table to `change`.
void change_geometries(Table& table, const std::function<void(OGRGeometry&)>& change) {
    for (Row& row : table.rows) {
        const auto wkt = row.find("@wkt");
        if (wkt == row.end() || wkt->is_null()) {
            continue;
        }
        OGRGeometry* read = nullptr;
        OGRGeometryFactory::createFromWkt(wkt->get<std::string>().c_str(), nullptr, &read);
        const OGRGeometryUniquePtr geometry{read};
        change(*geometry);
        // All digits of a double; the usual fifteen would move a point by a hair.
        OGRWktOptions digits;
        digits.precision = 17;
        digits.format = OGRWktFormat::G;
        row["@wkt"] = geometry->exportToWkt(digits);
    }
}

class Mover : public OGRDefaultGeometryVisitor {
public:
    explicit Mover(const std::function<Position(Position)>& move) : move_{move} {}
    using OGRDefaultGeometryVisitor::visit;
    void visit(OGRPoint* point) override {
        const auto [x, y] = move_({point->getX(), point->getY()});
        point->setX(x);
        point->setY(y);
    }

private:
    const std::function<Position(Position)>& move_;
};

}  // namespace

Survey moved(Survey survey, const std::function<Position(Position)>& move) {
    Mover mover{move};
    for (Table* table : {&survey.poles, &survey.spans, &survey.inspections, &survey.defects}) {
        change_geometries(*table, [&](OGRGeometry& g) { g.accept(&mover); });
    }
    return survey;
}

Survey in_crs(Survey survey, const std::string& crs) {
    for (Table* table : {&survey.poles, &survey.spans, &survey.inspections, &survey.defects}) {
        if (table->geometry.empty()) {
            continue;
        }
        const auto from = reference(table->crs);
        const auto to = reference(crs);
        const std::unique_ptr<OGRCoordinateTransformation> transform{
            OGRCreateCoordinateTransformation(from.get(), to.get())};
        change_geometries(*table, [&](OGRGeometry& g) { g.transform(transform.get()); });
        table->crs = crs;
    }
    return survey;
}

Row& merge(Row& row, const Row& more) {
    if (!more.is_null()) {
        row.update(more);
    }
    return row;
}

std::vector<Row> without(std::vector<Row> rows, const std::vector<std::string>& keys) {
    for (Row& row : rows) {
        for (const std::string& key : keys) {
            row.erase(key);
        }
    }
    return rows;
}

std::vector<Row> where(const Table& table, std::string_view column, const Row& value) {
    std::vector<Row> found;
    for (const Row& row : table.rows) {
        const auto at = row.find(std::string{column});
        if (at != row.end() && *at == value) {
            found.push_back(row);
        }
    }
    return found;
}

}  // namespace linewood::testing
