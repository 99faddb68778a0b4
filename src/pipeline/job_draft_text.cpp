#include <algorithm>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "geo/io/value_text.hpp"
#include "src/pipeline/job_draft.hpp"

namespace linewood {
namespace {

std::string quoted(const std::string& text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

constexpr std::size_t kMostPath = 1000;

/// For a comment: one line, of long ones the beginning.
std::string shown(const std::string& text, std::size_t most = 40) {
    std::string line = is_utf8(text) ? std::string{utf8_prefix(text, most)}
                                     : escaped_utf8(std::string_view{text}.substr(0, most));
    for (char& c : line) {
        c = static_cast<unsigned char>(c) < 0x20U || c == 0x7F ? ' ' : c;
    }
    return line;
}

std::string_view sure_word(double sure) {
    return sure >= kSureGuess ? "sure" : sure >= kLikelyGuess ? "likely" : "GUESS";
}

/// Lines of an object: entries with commas between them, comments behind them or on lines of their own.
class Lines {
public:
    explicit Lines(std::string indent) : indent_{std::move(indent)} {}

    void entry(std::string text, std::string comment = {}) {
        last_entry_ = static_cast<std::ptrdiff_t>(lines_.size());
        lines_.push_back({std::move(text), std::move(comment), true});
    }
    void comment(std::string text) { lines_.push_back({"", std::move(text), false}); }

    std::string text() const {
        std::string all;
        for (std::size_t i = 0; i < lines_.size(); ++i) {
            const Line& line = lines_[i];
            all += indent_ + line.text;
            all += line.entry && static_cast<std::ptrdiff_t>(i) != last_entry_ ? "," : "";
            if (!line.comment.empty()) {
                all += (line.entry ? "  // " : "// ") + line.comment;
            }
            all += "\n";
        }
        return all;
    }

private:
    struct Line {
        std::string text;
        std::string comment;
        bool entry;
    };
    std::string indent_;
    std::vector<Line> lines_;
    std::ptrdiff_t last_entry_ = -1;
};

std::string value_of(const FieldGuess& guess) {
    if (!guess.constant.empty()) {
        return fmt::format("{{\"constant\": {}}}", quoted(guess.constant));
    }
    std::string more;
    if (!guess.unit.empty()) {
        more += fmt::format(", \"unit\": {}", quoted(guess.unit));
    }
    if (!guess.measure.empty()) {
        more += fmt::format(", \"measure\": {}", quoted(guess.measure));
    }
    if (!guess.date_pattern.empty()) {
        more += fmt::format(", \"date\": {}", quoted(guess.date_pattern));
    }
    if (!guess.codes.empty()) {
        std::string codes;
        for (const auto& [text, word] : guess.codes) {
            codes += fmt::format("{}{}: {}", codes.empty() ? "" : ", ", quoted(text), word);
        }
        more += fmt::format(", \"codes\": {{{}}}", codes);
    }
    if (!guess.nulls.empty()) {
        std::string nulls;
        for (const std::string& text : guess.nulls) {
            nulls += (nulls.empty() ? "" : ", ") + quoted(text);
        }
        more += fmt::format(", \"nulls\": [{}]", nulls);
    }
    return more.empty() ? quoted(guess.column)
                        : fmt::format("{{\"field\": {}{}}}", quoted(guess.column), more);
}

std::string why(const FieldGuess& guess) {
    std::string text = fmt::format("{} ({:.2f})", sure_word(guess.sure), guess.sure);
    if (!guess.unit_why.empty()) {
        text += fmt::format(
            "; unit {} ({:.2f}): {}", sure_word(guess.unit_sure), guess.unit_sure, guess.unit_why);
    }
    if (!guess.measure_why.empty()) {
        text += fmt::format("; {} {} ({:.2f}): {}",
                            guess.measure.empty() ? "girth" : guess.measure,
                            sure_word(guess.measure_sure),
                            guess.measure_sure,
                            guess.measure_why);
    }
    for (const std::string& remark : guess.remarks) {
        text += "; " + shown(remark, remark.size());
    }
    if (!guess.unknown_codes.empty()) {
        text += "; NOT PLACED:";
        std::size_t shown_codes = 0;
        for (const auto& [code, count] : guess.unknown_codes) {
            if (++shown_codes > 10) {
                text += " ...";
                break;
            }
            text +=
                fmt::format(" \"{}\" in {} {}", shown(code), count, count == 1 ? "row" : "rows");
        }
    }
    return text;
}

std::string dataset_from(const std::filesystem::path& folder, const std::string& dataset) {
    std::error_code error;
    if (!std::filesystem::exists(dataset, error)) {
        return dataset;  // what OGR opens
    }
    const auto relative = std::filesystem::relative(
        std::filesystem::absolute(dataset), std::filesystem::absolute(folder), error);
    return error || relative.empty() ? dataset : relative.string();
}

void add_fields(const SourceGuess& source, Lines& fields) {
    for (const FieldGuess& guess : source.fields) {
        const std::string text = fmt::format("\"{}\": {}", guess.field->name, value_of(guess));
        if (!guess.withheld.empty()) {
            fields.comment(fmt::format("NOT PLACED, {}: {}; {}", guess.withheld, text, why(guess)));
        } else if (guess.without_unit()) {
            fields.comment(
                fmt::format("NOT PLACED, its unit could not be told: \"{}\": {{\"field\": {}, "
                            "\"unit\": \"?\"}}; {}",
                            guess.field->name,
                            quoted(shown(guess.column)),
                            why(guess)));
        } else {
            fields.entry(text, why(guess));
        }
    }
    for (const ContractField& field : input_fields(source.role)) {
        const bool there = std::any_of(source.fields.begin(),
                                       source.fields.end(),
                                       [&](const FieldGuess& g) { return g.field == &field; });
        if (field.required && !there && field.name == "pole_id" &&
            source.role == InputLayer::poles) {
            fields.entry("\"pole_id\": {\"feature_id\": true}",
                         "GUESS (0.30): no column looks like an id; nothing can be joined by it");
        } else if (field.required && !there) {
            fields.comment(
                fmt::format("NEEDED, and no column was found for it: \"{}\"", field.name));
        }
    }
}

void add_left(const SourceGuess& source, Lines& lines) {
    std::string without;
    for (const SourceGuess::Left& left : source.left) {
        if (left.nearest != nullptr) {
            lines.comment(fmt::format("not placed: {} (could be {}, {:.2f})",
                                      shown(left.column),
                                      left.nearest->name,
                                      left.sure));
        } else {
            without += (without.empty() ? "" : ", ") + shown(left.column);
        }
    }
    if (!without.empty()) {
        lines.comment("not placed, carried along: " + without);
    }
}

std::string source_text(const SourceGuess& source, const std::filesystem::path& folder) {
    const LayerProfile& profile = *source.profile;
    Lines lines{"        "};
    lines.entry(fmt::format("\"source\": {}", quoted(dataset_from(folder, profile.dataset))));
    lines.entry(fmt::format("\"layer\": {}", quoted(profile.layer)),
                fmt::format("{} rows, {}; {} ({:.2f})",
                            profile.rows,
                            name_of(profile.geometry),
                            sure_word(source.role_sure),
                            source.role_sure));
    if (!source.groups.empty()) {
        std::string groups;
        for (const std::string& group : source.groups) {
            groups += (groups.empty() ? "" : ", ") + quoted(group);
        }
        lines.entry(fmt::format("\"repeat\": [{}]", groups), "repeated columns, one row each");
    }
    Lines fields{"          "};
    add_fields(source, fields);
    Lines left{"        "};
    add_left(source, left);
    lines.entry("\"fields\": {\n" + fields.text() + "        }");
    return "      {\n" + lines.text() + left.text() + "      }";
}

}  // namespace

std::string draft_text(const JobDraft& draft, const std::filesystem::path& folder) {
    std::string text =
        "{\n"
        "  // A first job file, made of guesses: look at every line. Behind each stands how sure "
        "it is\n"
        "  // (0 to 1). What could not be told is a comment; linewood job check says what is still "
        "amiss.\n"
        "  \"layers\": {\n";
    bool first_layer = true;
    for (const InputLayer role :
         {InputLayer::poles, InputLayer::spans, InputLayer::inspections, InputLayer::defects}) {
        std::string sources;
        for (const SourceGuess& source : draft.sources) {
            if (source.role == role) {
                sources += (sources.empty() ? "" : ",\n") + source_text(source, folder);
            }
        }
        if (!sources.empty()) {
            text += fmt::format(
                "{}    \"{}\": [\n{}\n    ]", first_layer ? "" : ",\n", name_of(role), sources);
            first_layer = false;
        }
    }
    text += first_layer ? "" : "\n";
    for (const LayerProfile* layer : draft.left) {
        text += fmt::format("    // not placed: layer {} of {}, {} rows, {}\n",
                            shown(layer->layer),
                            shown(dataset_from(folder, layer->dataset), kMostPath),
                            layer->rows,
                            name_of(layer->geometry));
    }
    return text + "  }\n}\n";
}

}  // namespace linewood
