#pragma once

// Private to geo/io: the columns of an output layer and how their values are stored.

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include <ogrsf_frmts.h>

#include "geo/io/output_dataset.hpp"
#include "geo/io/raw_value.hpp"

namespace linewood {

/// How a column is stored in the output's format. What the format has no type for becomes text.
enum class Storage : std::uint8_t {
    text,
    integer,
    integer64,
    real,
    boolean,
    date,
    datetime,
    binary
};

struct OutColumn {
    Field field;            ///< under the name it has in the file
    std::string full_name;  ///< differs from field.name in Shapefiles only
    Storage storage = Storage::text;
    bool finite_only = true;                        ///< the format cannot hold NaN and infinities
    bool utc = false;                               ///< times are to be brought to UTC
    std::shared_ptr<RepairedTexts> repaired_texts;  ///< told of ill-formed UTF-8; may be null
    std::size_t max_bytes = 0;                      ///< of text; 0 = no limit
    int decimals = 0;  ///< of real numbers, written without an exponent; 0 = written whole
    std::size_t number_bytes = 0;  ///< of such a number; 0 = no limit

    std::int64_t cut = 0;       ///< texts shortened to max_bytes
    std::int64_t repaired = 0;  ///< texts with ill-formed UTF-8
    std::int64_t rounded = 0;   ///< real numbers of which `decimals` keep less than six digits
    std::int64_t refused = 0;   ///< values the column's type cannot hold, written as null
};

/// The columns of `plan` in `format`: carried ones, then added ones.
std::vector<OutColumn> out_columns(const LayerPlan& plan, OutputFormat format);

/// The OGR field for a column.
std::unique_ptr<OGRFieldDefn> ogr_field(const OutColumn& column, OutputFormat format);

/// Sets field `index` of a feature that has it unset. Counts what is lost in `column`.
void set_field(OGRFeature& feature, int index, OutColumn& column, const RawValue& value);

/// Can a value that is not null be stored in the column? Numbers of any type go into number columns where
/// their value is one of the column's; anything goes into text but NaN and infinities.
bool fits(const OutColumn& column, const RawValue& value);

/// Is it stored as a whole number (or a boolean)?
bool is_whole(const RawValue& value);
/// The value as a whole number. @pre it is one.
std::int64_t whole_of(const RawValue& value);

/// Text for a column as it goes to the file: whole, repaired, cut; a view into the arguments.
std::string_view stored_text(OutColumn& column, std::string_view text, std::string& scratch);

/// What the user should know about the values of `columns`.
void add_loss_notes(const std::string& layer,
                    const std::vector<OutColumn>& columns,
                    std::vector<OutputNote>& notes);

}  // namespace linewood
