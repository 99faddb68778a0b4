#include "src/pipeline/field_details.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "src/pipeline/column_fit.hpp"
#include "src/pipeline/row_decoder.hpp"

namespace linewood {
namespace {

/// Usual sizes in metres, for telling units apart. Own choice, no source.
struct UsualSize {
    std::string_view field;
    double least;
    double most;
};
constexpr UsualSize kUsualSizes[] = {{"length", 7.0, 40.0},
                                     {"setting_depth", 1.0, 4.0},
                                     {"recorded_circumference", 0.55, 1.8},
                                     {"original_circumference", 0.55, 1.8},
                                     {"present_circumference", 0.5, 1.8},
                                     {"width", 0.02, 0.3},
                                     {"depth", 0.01, 0.2},
                                     {"extent", 0.02, 2.0},
                                     {"shell_thickness", 0.01, 0.2}};

bool is_girth_word(std::string_view word) {
    constexpr std::string_view kBegins[] = {"circ", "girth", "omkrets", "umfang", "perim"};
    return std::any_of(std::begin(kBegins), std::end(kBegins), [&](std::string_view begin) {
        return word.substr(0, begin.size()) == begin;
    });
}

/// Fills in what a placed column needs to be read.
class FieldDetails {
public:
    FieldDetails(FieldGuess& guess, const ColumnProfile& column, const NameWords& name)
        : guess_{guess}, column_{column}, name_{name} {}

    void fill() {
        for (const auto& [text, count] : column_.values) {
            if (is_null_marker(text) && column_.filled > 2 * count) {
                guess_.nulls.push_back(text);
            }
        }
        if (is_dimension(guess_.field->quantity)) {
            find_unit();
        } else if (guess_.field->quantity == Quantity::date) {
            find_pattern();
        } else if (guess_.field->quantity == Quantity::code ||
                   guess_.field->quantity == Quantity::boolean) {
            find_codes();
        }
    }

private:
    void find_unit() {
        const Quantity q = guess_.field->quantity;
        if (q == Quantity::angle || q == Quantity::azimuth) {
            guess_.unit = "deg";
            const bool clock = q == Quantity::azimuth && column_.most && *column_.most <= 12.0;
            guess_.unit_sure = clock ? 0.5 : 0.9;
            guess_.unit_why = clock ? "all are 12 or less: hours on the clock?" : "an angle";
            return;
        }
        if (q == Quantity::girth) {
            find_measure();
        }
        if (!name_.unit.empty() && name_.unit != "deg") {
            guess_.unit = name_.unit;
            guess_.unit_why = "the unit is in the name";
            return;
        }
        by_values();
    }

    /// Girth, diameter or radius: the name alone tells them apart.
    void find_measure() {
        const auto found = [&](const char* measure, double sure, const std::string& why) {
            guess_.measure = measure;
            guess_.measure_sure = sure;
            guess_.measure_why = why;
        };
        found("", 0.55, "nothing says that it is the girth and no diameter");
        for (const std::string& word : name_.words) {
            const std::string why = "\"" + word + "\" is in the name";
            if (word == "radius" || word == "rad") {
                found("radius", word == "rad" ? 0.6 : 0.9, why);
            } else if (word.substr(0, 3) == "dia" || word == "d") {
                found("diameter",
                      word.substr(0, 4) == "diam" ? 0.9
                      : word == "d"               ? 0.5
                                                  : 0.75,
                      why);
            } else if (is_girth_word(word)) {
                found("", 0.9, why);
            }
        }
    }

    /// The units in which the middle of the values is a usual size.
    void by_values() {
        const auto* const usual =
            std::find_if(std::begin(kUsualSizes), std::end(kUsualSizes), [&](const UsualSize& u) {
                return u.field == guess_.field->name;
            });
        if (usual == std::end(kUsualSizes) || column_.sample.empty()) {
            return;
        }
        const double factor = guess_.measure == "diameter" ? 3.14159
                              : guess_.measure == "radius" ? 6.28319
                                                           : 1.0;
        std::vector<std::string> fitting;
        for (const NamedUnit& unit : units_of(guess_.field->quantity)) {
            const double metres = column_.median() * unit.size * factor;
            if (metres >= usual->least && metres <= usual->most) {
                fitting.emplace_back(unit.name);
            }
        }
        if (fitting.size() == 1) {
            guess_.unit = fitting.front();
            guess_.unit_why =
                fmt::format("the values (middle {:.4g}) are usual in it alone", column_.median());
            guess_.unit_sure = 0.75;
        } else if (!fitting.empty()) {
            guess_.remarks.push_back(fmt::format("values (middle {:.4g}) would be usual in {}",
                                                 column_.median(),
                                                 fmt::join(fitting, " or ")));
            guess_.usual_units = fitting;
        }
    }

    void find_pattern() {
        if (column_.field.type != FieldType::text && column_.all_days()) {
            return;
        }
        if (column_.all_days()) {
            return;
        }
        const auto patterns = date_patterns(column_);
        if (patterns.empty()) {
            guess_.remarks.emplace_back("no pattern was found that all dates are written by");
            return;
        }
        guess_.date_pattern = patterns.front();
        if (patterns.size() > 1) {
            guess_.sure = std::min(guess_.sure, kLeastGuess);
            guess_.remarks.push_back(
                fmt::format("day and month could be exchanged: {} fits as well", patterns[1]));
        }
    }

    void find_codes() {
        bool needed = false;
        for (const auto& [text, count] : column_.values) {
            if (std::find(guess_.nulls.begin(), guess_.nulls.end(), text) != guess_.nulls.end()) {
                continue;
            }
            const bool placed = guess_.field->quantity == Quantity::boolean
                                    ? place_answer(text, needed)
                                    : place_code(text, needed);
            if (!placed) {
                guess_.unknown_codes.emplace_back(text, count);
                needed = true;
            }
        }
        if (column_.many) {
            guess_.remarks.emplace_back("there are more values than were looked at");
        }
        if (!needed) {
            guess_.codes.clear();
        }
    }

    /// @param needed is set where the text is not read as it is
    bool place_answer(const std::string& text, bool& needed) {
        const auto answer = guess_answer(text);
        if (!answer) {
            return false;
        }
        guess_.codes.emplace_back(text, *answer ? "true" : "false");
        needed = needed || !is_read_as_answer(text);
        return true;
    }

    bool place_code(const std::string& text, bool& needed) {
        const auto word = guess_code(*guess_.field, text);
        if (!word) {
            return false;
        }
        guess_.codes.emplace_back(text, "\"" + std::string{word->word} + "\"");
        needed = needed || code_form(text) != word->word;
        if (word->sure < kLikelyGuess) {
            guess_.remarks.push_back(fmt::format("\"{}\" may mean something else", text));
            guess_.sure = std::min(guess_.sure, 0.6);
        }
        return true;
    }

    static bool is_read_as_answer(const std::string& text) {
        constexpr std::string_view kRead[] = {
            "true", "false", "t", "f", "yes", "no", "y", "n", "1", "0"};
        const std::string form = code_form(text);
        return std::find(std::begin(kRead), std::end(kRead), form) != std::end(kRead);
    }

    FieldGuess& guess_;
    const ColumnProfile& column_;
    const NameWords& name_;
};

/// Rows whose material is known to be wood, of those with a material.
struct WoodRows {
    std::int64_t wood = 0;
    std::int64_t all = 0;
};

WoodRows wood_rows(const FieldGuess& material, const ColumnProfile& column) {
    WoodRows rows;
    for (const auto& [text, count] : column.values) {
        if (is_null_marker(text)) {
            continue;
        }
        const auto word = guess_code(*material.field, text);
        rows.all += count;
        rows.wood += word && word->word == "wood" ? count : 0;
    }
    return rows;
}

/// Words in which something else than wood stands, by how they begin, in the languages that draft knows words of.
bool names_no_wood(const std::string& text) {
    constexpr std::string_view kStems[] = {"steel",
                                           "st\u00E5l",
                                           "st\u00C5l",
                                           "stahl",
                                           "acier",
                                           "acero",
                                           "concret",
                                           "beton",
                                           "hormig",
                                           "alumin",
                                           "fibregl",
                                           "fibergl"};
    const std::string form = code_form(text);
    return std::any_of(std::begin(kStems), std::end(kStems), [&](std::string_view stem) {
        return form.find(stem) != std::string::npos;
    });
}

/// The column by which most rows are of something else than wood, whatever it is called.
struct OtherRows {
    std::string column;
    std::int64_t rows = 0;
};

OtherRows other_rows(const LayerProfile& profile) {
    OtherRows most;
    for (const ColumnProfile& column : profile.columns) {
        std::int64_t rows = 0;
        for (const auto& [text, count] : column.values) {
            rows += names_no_wood(text) ? count : 0;
        }
        if (rows > most.rows) {
            most = {column.field.name, rows};
        }
    }
    return most;
}

std::string first_metric(const std::vector<std::string>& units) {
    const auto metric = std::find_if(units.begin(), units.end(), [](const std::string& unit) {
        return unit == "mm" || unit == "cm" || unit == "m";
    });
    return metric == units.end() ? std::string{} : *metric;
}

}  // namespace

void fill_details(FieldGuess& guess, const ColumnProfile& column, const NameWords& name) {
    FieldDetails{guess, column, name}.fill();
}

void doubt_sizes_of_no_wood(SourceGuess& source) {
    const FieldGuess* material = nullptr;
    for (const FieldGuess& guess : source.fields) {
        material = guess.field->name == "material" ? &guess : material;
    }
    WoodRows rows;
    for (const ColumnProfile& column : source.profile->columns) {
        if (material != nullptr && column.field.name == material->column) {
            rows = wood_rows(*material, column);
        }
    }
    const OtherRows other = other_rows(*source.profile);
    for (FieldGuess& guess : source.fields) {
        if (guess.field->quantity != Quantity::girth) {
            continue;
        }
        if (rows.all > 0 && 2 * rows.wood < rows.all) {
            guess.withheld = fmt::format(
                "{} of {} rows with a material are known to be wood, and the girth is asked of "
                "wood "
                "alone",
                rows.wood,
                rows.all);
        } else if (rows.all == 0 && 2 * other.rows > source.profile->rows) {
            guess.withheld = fmt::format(
                "by column {} {} of {} rows are of something else than wood, of which "
                "no girth is asked",
                other.column,
                other.rows,
                source.profile->rows);
        } else if (rows.all == 0 && !guess.measure.empty()) {
            guess.sure = std::min(guess.sure, 0.55);
            guess.remarks.emplace_back(
                "nothing says that these are of wood: the size of a steel or concrete mast is no "
                "girth to assess");
        }
    }
}

void share_units(SourceGuess& source, const SourceGuess& known) {
    bool us = false;
    bool si = false;
    for (const FieldGuess& guess : known.fields) {
        us = us || guess.unit == "in" || guess.unit == "ft";
        si = si || guess.unit == "mm" || guess.unit == "cm" || guess.unit == "m";
    }
    if (us == si) {
        return;
    }
    for (FieldGuess& guess : source.fields) {
        const bool size =
            guess.field->quantity == Quantity::girth || guess.field->quantity == Quantity::length;
        if (!size || !guess.unit.empty()) {
            continue;
        }
        if (us) {
            guess.unit = guess.field->unit;
        } else {
            guess.unit = first_metric(guess.usual_units);
        }
        guess.unit_sure = 0.6;
        guess.unit_why =
            us ? "the other sizes are in inches and feet" : "the other sizes are metric";
    }
}

}  // namespace linewood
