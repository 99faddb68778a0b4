#pragma once

#include <string>
#include <vector>

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"

namespace linewood {

/// Drawings for the page, as parts of it. Marks differ in shape and lightness, not in hue alone.

/// Map: rates of cells, inspected poles, clusters with their names, a scale. Empty where no pole has a place.
std::string cluster_map(const AssessedData& data,
                        const Population& population,
                        const ClusterResults& results);

/// The most rows of a dot plot.
inline constexpr std::size_t kPlottedAreas = 30;

/// The areas of a kind that are not too thin, highest rate first, at most kPlottedAreas.
std::vector<const AreaRate*> plotted_areas(const ClusterResults& results, const std::string& kind);

/// Rates with Wilson's interval and the smoothed rate, beside the rate of all. @pre areas are some
std::string rate_plot(const std::vector<const AreaRate*>& areas, double rate_of_all);

/// How many inspected poles have which remaining strength, a panel for each stratum (the largest eight), with
/// the limit. Empty where no strength is known.
std::string strength_histograms(const AssessedData& data,
                                const Population& population,
                                const ClusterResults& results);

/// The class of a rate on the map, 0 to 4, and its words and fill.
inline constexpr int kRateClasses = 5;
int rate_class(double share, double rate_of_all);
std::string rate_class_words(int rate_class, double rate_of_all);
const char* rate_class_fill(int rate_class);

}  // namespace linewood
