#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "assess/units/date.hpp"
#include "geo/io/source.hpp"
#include "src/report/run_monitor.hpp"
#include "src/site/search_index.hpp"
#include "src/site/shown_columns.hpp"

namespace linewood {

/// A rectangle of longitudes and latitudes.
struct LonLatBox {
    double west = 0.0;
    double south = 0.0;
    double east = 0.0;
    double north = 0.0;
};

/// What the page says of all poles, whether it holds them or not.
struct PoleCounts {
    std::size_t poles = 0;   ///< rows of the layer
    std::size_t placed = 0;  ///< with a place on WGS 84
    std::size_t needing_work = 0;
    /// By the verdict as it stands in the layer; rows without one are not among them.
    std::map<std::string, std::size_t> by_verdict;
    std::optional<LonLatBox> bounds;  ///< of those placed

    /// What the page offers to filter by: of all poles, not only of those it holds.
    std::set<std::string> circuits;  ///< as JSON
    std::size_t without_circuit = 0;
    std::set<int> years;  ///< of inspections up to the day of the assessment
    std::size_t after_that =
        0;  ///< poles whose inspection is dated later: a slip, or a wrong clock
};

/// A pole that is published: what ranks it, and where its worksheet will be.
struct PoleKey {
    std::size_t row = 0;  ///< in the layer
    std::string pole_id;
    std::string verdict;
    std::string urgency;
    std::optional<double> remaining_pct;
    bool needs_work = false;  ///< replace, stub, or treat without a treatment done
};

/// Poles as data/poles.js holds them: column by column, every value ready as JSON.
struct SitePoles {
    std::vector<ShownColumn> columns;
    PoleCounts counts;
    std::vector<PoleKey> keys;
    std::vector<std::string> lon;
    std::vector<std::string> lat;
    std::vector<std::vector<std::string>> values;  ///< by column, then by pole
    /// All poles by their ids, where not all are kept.
    SearchIndex index;

    bool whole = true;  ///< all poles may be kept
};

/// Which poles are kept.
struct PoleChoice {
    std::size_t most = 0;       ///< of them; of more than that only
    std::size_t worst = 0;      ///< so many, the worst first
    std::optional<Date> today;  ///< the day of the assessment
};

/// Reads the poles of an assessed dataset in the order of the layer.
/// @throws DataError, Interrupted
SitePoles read_site_poles(const Source& source,
                          UnitSystem units,
                          const PoleChoice& choice,
                          RunMonitor& monitor);

/// Where the pages of a pole are in the site: paths by row of the layer.
using PagesByRow = std::map<std::size_t, std::string>;

/// `window.LINEWOOD_POLES = {...};`
std::string poles_script(const SitePoles& poles,
                         const PagesByRow& worksheets,
                         const PagesByRow& sections,
                         const PagesByRow& projects);

/// Whether `a` is to be looked at before `b`: urgency, verdict, strength, then the order of the layer.
bool is_worse(const PoleKey& a, const PoleKey& b);

}  // namespace linewood
