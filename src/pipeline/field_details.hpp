#pragma once

#include "src/job/draft_words.hpp"
#include "src/pipeline/column_profile.hpp"
#include "src/pipeline/job_draft.hpp"

namespace linewood {

/// Fills in what a placed column needs to be read: null markers, unit and measure, date pattern, codes. What cannot
/// be told is left open, with a remark.
void fill_details(FieldGuess& guess, const ColumnProfile& column, const NameWords& name);

/// Girths of a layer of poles that are mostly known to be of something else than wood are withheld; a diameter of
/// which nothing says what it is of, is a guess.
void doubt_sizes_of_no_wood(SourceGuess& source);

/// Sizes without a unit of their own follow those of the same source whose unit is known: inches and feet
/// go together, and so do those of ten.
/// @param known of the same table; `source` itself, or that whose wide rows it is made of
void share_units(SourceGuess& source, const SourceGuess& known);

}  // namespace linewood
