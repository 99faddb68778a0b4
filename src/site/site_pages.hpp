#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "geo/io/source.hpp"
#include "src/site/site_poles.hpp"

namespace linewood {

/// A page or file that the site offers.
struct SiteLink {
    std::string file;
    std::string title;
};

/// Statements of `run` layers with what they are about.
struct Provenance {
    std::string title;  ///< `Assessment`, `Clusters`, ...
    std::vector<std::pair<std::string, std::string>> statements;
};

/// The layers that this tool writes into an assessed dataset and that are in this one, in the order of the documents.
std::vector<std::string> assessed_layers(const Source& source);
/// The same, then all others: those of the user. Not the styles of a GeoPackage, which are no data.
std::vector<std::string> published_layers(const Source& source);

/// All statements of the `run` layer of a dataset; none where it has none.
Provenance read_provenance(const Source& source, const std::string& title);

/// The fields of every layer of the dataset, those of the user too: unit and meaning.
std::string fields_page(const Source& source, UnitSystem units, const std::string& title);

/// What was read and by which criteria, with checksums; cautions.
std::string provenance_page(const std::vector<Provenance>& provenance,
                            const std::vector<std::string>& notes,
                            const std::string& title);

/// The map page, from its model: title, cautions, and for readers without scripts the links and the worst poles.
std::string index_page(std::string_view model,
                       const std::string& title,
                       const SitePoles& poles,
                       const PagesByRow& worksheets,
                       const std::vector<SiteLink>& links,
                       const std::vector<std::string>& notes);

}  // namespace linewood
