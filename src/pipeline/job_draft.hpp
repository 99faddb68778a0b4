#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "src/job/contract_fields.hpp"
#include "src/pipeline/column_profile.hpp"

namespace linewood {

/// A column that is taken for a field, and how sure that is.
struct FieldGuess {
    const ContractField* field = nullptr;
    std::string column;    ///< with `{n}` that of a repeated group
    std::string constant;  ///< instead of a column
    double sure = 0.0;     ///< 0 to 1
    std::string unit;      ///< empty: none needed, or none could be told
    std::string unit_why;  ///< where the unit is from
    double unit_sure = 1.0;
    std::vector<std::string>
        usual_units;      ///< in which the values would be usual sizes, where several are
    std::string measure;  ///< `diameter`, `radius`
    std::string measure_why;
    double measure_sure = 1.0;
    /// Why it is no more than a comment, although a column suits it; empty = it stands.
    std::string withheld = {};
    std::string date_pattern;
    /// Texts that are coded, with their word (as JSON: a word in quotation marks, true, false).
    std::vector<std::pair<std::string, std::string>> codes;
    std::vector<std::pair<std::string, std::int64_t>> unknown_codes;  ///< with their counts
    std::vector<std::string> nulls;
    std::vector<std::string> remarks;
    /// It cannot be read as it is: no unit could be told. Written as a comment.
    bool without_unit() const { return is_dimension(field->quantity) && unit.empty(); }
};

/// A source of one of the four layers.
struct SourceGuess {
    InputLayer role = InputLayer::poles;
    double role_sure = 0.0;
    const LayerProfile* profile = nullptr;
    std::vector<std::string> groups;  ///< of repeated columns
    std::vector<FieldGuess> fields;
    /// Columns that no field was found for, with the best that was thought of.
    struct Left {
        std::string column;
        const ContractField* nearest = nullptr;
        double sure = 0.0;
    };
    std::vector<Left> left;
};

struct JobDraft {
    std::vector<SourceGuess> sources;
    std::vector<const LayerProfile*> left;  ///< layers taken for none of the four
};

/// Under this a guess is not made; from the second on it is likely, from the third sure. Own choice, no source.
inline constexpr double kLeastGuess = 0.5;
inline constexpr double kLikelyGuess = 0.65;
inline constexpr double kSureGuess = 0.85;

/// Guesses which layers are which, what their columns are, in which units and codes. @pre the profiles outlive it.
JobDraft draft_job(const std::vector<LayerProfile>& profiles);

/// The job file: JSON with a comment behind every guess that says how sure it is and why, and comments for
/// all that found no place. What could not be told (a unit, a code) is never filled in.
/// @param folder where it will stand; paths are relative to it.
std::string draft_text(const JobDraft& draft, const std::filesystem::path& folder);

}  // namespace linewood
