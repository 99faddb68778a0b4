#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "assess/condition/condition_findings.hpp"
#include "assess/record/finding.hpp"
#include "assess/record/inspection.hpp"
#include "assess/units/date.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"
#include "geo/io/feature_batch.hpp"
#include "geo/io/layer_schema.hpp"
#include "src/pipeline/layer_columns.hpp"

namespace linewood {

/// A contract column in one layer: its name there, and where it is, if it is.
struct Column {
    std::string_view name;
    std::optional<std::size_t> index;
    std::optional<std::size_t> slot = std::nullopt;  ///< where a job file maps it, in LayerColumns

    bool exists() const { return index.has_value() || slot.has_value(); }
};

/// The unit a column is recorded in.
enum class RecordedUnit : std::uint8_t { inch, foot };

/// Which numbers a size may be.
enum class SizeRange : std::uint8_t { any, not_negative, positive };

/// A word of a coded column and what it stands for, as a number of the caller's.
struct CodeWord {
    std::string_view word;
    int meaning;
};

/// Reads the cells of one layer's rows into typed values. What cannot be read becomes a finding with
/// layer, feature, field and value, and counts as not recorded.
class RowDecoder {
public:
    /// @param own columns of the tool's own in a dataset it wrote before: never read as input; the
    ///        input's column of that name is then `in_…`.
    /// @param mapped how a job file maps the layer; null: columns are found by their names.
    RowDecoder(const LayerSchema& schema,
               InputLayer layer,
               Findings& findings,
               std::span<const std::string_view> own = {},
               const LayerColumns* mapped = nullptr);

    /// The column of a contract field, found without case.
    Column column(std::string_view name);
    /// The tool's own column of that name in a dataset it wrote before; none in any other.
    Column own_column(std::string_view name);
    /// Positions of all columns asked for so far, for reading just these.
    const std::vector<std::size_t>& used() const { return used_; }

    /// Moves on to a row. `place` is put on its findings.
    void start(const FeatureBatch& batch, std::size_t row);
    /// After the last row: what is noted now is about the layer.
    void finish();
    void set_feature(std::string feature) { feature_ = std::move(feature); }
    void set_place(std::optional<Place> place) { place_ = place; }

    /// Blank text is no value either.
    bool is_null(const Column& c) const;
    /// Trimmed; empty where null.
    std::string text(const Column& c) const;
    std::optional<double> number(const Column& c);
    Maybe<Length> length(const Column& c, RecordedUnit unit, SizeRange range);
    /// Dates after `today` are doubted from now on, but used.
    void doubt_dates_after(std::optional<Date> today) { today_ = today; }
    std::optional<Date> date(const Column& c);
    Answer answer(const Column& c);
    /// The meaning of a coded text, compared without case, with blanks and hyphens as underscores.
    std::optional<int> code(const Column& c, std::span<const CodeWord> words);
    /// Where a job file names the column: keeps a value that is none of its words for the error that ends
    /// the run (UnknownCodes), and gives true.
    bool refuse_code(const Column& c, std::string_view value, std::span<const CodeWord> words);
    /// What stands in the row before it is mapped, and the column it stands in; of a mapped column.
    std::optional<std::pair<std::string, std::string>> as_stored(const Column& c) const;

    /// Notes what was wrong with the row in the file. Where a value may be lost or in the wrong column, that counts as
    /// a value that could not be used.
    void note_damage();
    /// Notes a geometry that cannot be used whatever the layer: bytes that are none, a coordinate that is no
    /// number.
    /// @return whether there was one.
    bool note_shape(ShapeStatus status);
    /// The same of the present row, where what kind of geometry it has is no matter.
    void note_row_shape();
    /// `POLYGON`, `POINT Z`; empty where there is none, or it cannot be read.
    std::string geometry_type() const;
    /// The same of the layer; after the last row.
    void note_damage(const std::vector<RowDamage>& of_layer);
    /// A row that names no pole there is, at its own place where it has one.
    void note_unknown_pole(const std::string& id);
    /// @param advice is put behind the kind's own words.
    void note(const FindingKind& kind,
              std::string_view field,
              std::string value,
              std::string_view advice = "");

    /// Whether a value stood in this row that could not be used, since the last time this was asked. It
    /// counts as not recorded, but nothing may pass on that.
    bool take_refused() { return std::exchange(refused_, false); }

private:
    bool is_own(std::string_view name) const;
    Column wanted(std::string_view name, const std::string& name_in_layer);
    void use(std::size_t column);
    /// The first source of a mapped column that holds something; null where none does.
    const ColumnSource* taken(const Column& c) const;
    std::optional<std::string> word_of(const ColumnSource& source) const;
    std::string stored_text(const ColumnSource& source) const;
    Read<double, ValueStatus> mapped_number(const Column& c) const;
    Read<Date, ValueStatus> mapped_date(const Column& c) const;
    Read<bool, ValueStatus> mapped_boolean(const Column& c) const;
    std::string shown_value(const Column& c) const;
    std::string column_advice(std::string_view field) const;

    const LayerSchema& schema_;
    InputLayer layer_;
    Findings& findings_;
    std::span<const std::string_view> own_;
    const LayerColumns* mapped_;
    std::vector<std::size_t> used_;
    const FeatureBatch* batch_ = nullptr;
    std::size_t row_ = 0;
    std::string feature_;
    std::optional<Place> place_;
    std::optional<Date> today_;
    bool refused_ = false;
};

/// ` (known are a, b, c)`.
std::string known_words(std::span<const CodeWord> words);

/// `text` as codes are compared: trimmed, lower case, blanks and hyphens as underscores.
std::string code_form(std::string_view text);

/// `text` without blanks around it.
std::string_view trimmed(std::string_view text);

}  // namespace linewood
