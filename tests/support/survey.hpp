#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

namespace linewood::testing {

/// Column to value, in the order of the columns. Null is JSON null; dates and times are text. In rows read
/// `@fid` is the FID and `@wkt` the geometry (null where there is none); in rows to be written both may be
/// left out, and `@path` (a list of [x, y], one for a point) may stand for `@wkt`, NaN and infinities included.
using Row = nlohmann::ordered_json;

/// One layer, to be written or as read by OGR itself.
struct Table {
    std::string name;
    std::vector<Row> rows;
    /// `POINT`, `LINESTRING`, `GEOMETRY` ...; empty = a plain table.
    std::string geometry;
    /// Anything OGR takes for a coordinate system; empty = none stated.
    std::string crs;
    /// Types that the values do not show: `date`, `datetime`, `time`, `real`, `integer`, `integer64`,
    /// `boolean`, `text`, `text_list`, `binary`. Columns named here are there even if no row has a value.
    std::map<std::string, std::string> types = {};
    /// Columns that stand first, in this order; of a table read: all of them.
    std::vector<std::string> first_columns = {};

    /// The names of all columns: `first_columns`, then as they appear in the rows, then in `types`.
    std::vector<std::string> columns() const;
    bool has_column(std::string_view column) const;
    /// The only row whose `column` is `value`. @throws std::out_of_range where there is none, or more.
    const Row& row(std::string_view column, const Row& value) const;
    const Row& pole(std::string_view pole_id) const { return row("pole_id", Row(pole_id)); }
    /// Adds a column with the same value in all rows.
    Table& fill(const std::string& column, const Row& value);
};

/// A survey of an invented network, in the words of the contract: what `linewood assess` reads.
struct Survey {
    static constexpr const char* kUtm10 = "EPSG:32610";

    Table poles{"poles", {}, "POINT", kUtm10};
    Table spans{"spans", {}, "LINESTRING", kUtm10};
    Table inspections{"inspections", {}, "", "", {{"inspected_on", "date"}}};
    Table defects{"defects", {}, "", "", {{"inspected_on", "date"}}};

    /// Origin of add_pole() and add_span(): on the central meridian of zone 10, where grid north is true.
    double x0 = 500000.0;
    double y0 = 5000000.0;

    /// Adds and returns the new row; `more` is its other columns.
    Row& add_pole(std::string_view id, double x, double y, const Row& more = {});
    Row& add_span(const std::vector<std::pair<double, double>>& path, const Row& more = {});
    Row& add_visit(std::string_view pole, std::string_view date, const Row& more = {});
    Row& add_defect(std::string_view pole, std::string_view kind, const Row& more = {});

    std::vector<const Table*> tables() const { return {&poles, &spans, &inspections, &defects}; }
    /// Puts every layer with a geometry into one coordinate system; coordinates stay.
    void set_crs(const std::string& crs);
};

/// A straight line of five poles A to E going north, 40 m apart, with visits and defects that end in every
/// verdict: A serviceable, B treat, C stub, D replace, E unassessed (never inspected).
Survey five_poles();

/// A small network with every role and every kind of defect, azimuths true, for changing the world around it:
///
///     T1 - T2 - T3 - J - E1        a straight line, a junction, an angle of 40 degrees and dead ends;
///                    |             T2 has pockets by position and by none, T3 a bore and a pocket,
///                    N1 - N2       J and N1 pockets by azimuth
///
Survey odd_network();

using Position = std::pair<double, double>;
/// The same with every vertex of every layer moved.
Survey moved(Survey survey, const std::function<Position(Position)>& move);
/// The same in another coordinate system.
Survey in_crs(Survey survey, const std::string& crs);

/// Writes all tables: `.gpkg` is one file, anything else a folder of `<name>.<extension>` (`geojson`, `fgb`,
/// `shp`, `csv`); tables without geometry go to CSV there. Points in CSV are columns x and y, lines `wkt`.
void write_survey(const std::filesystem::path& path,
                  const Survey& survey,
                  std::string_view extension = "geojson");
/// One table to a file of its own, or as a layer into a GeoPackage that may be there already.
void write_table(const std::filesystem::path& path, const Table& table);

/// Reads a layer by OGR; of a file with one layer the name may be empty. @throws std::runtime_error
Table read_table(const std::filesystem::path& path, const std::string& layer = "");
/// What an SQL statement gives on a GeoPackage.
Table read_sql(const std::filesystem::path& path, const std::string& sql);
/// The layers of a dataset.
std::vector<std::string> layer_names(const std::filesystem::path& path);

/// Sets the columns of `more` in the row; nothing where it is null, as `{}` is.
Row& merge(Row& row, const Row& more);
/// Rows without some of their keys, for comparing.
std::vector<Row> without(std::vector<Row> rows, const std::vector<std::string>& keys);
/// Rows that have `value` in `column`.
std::vector<Row> where(const Table& table, std::string_view column, const Row& value);

}  // namespace linewood::testing
