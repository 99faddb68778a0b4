#include "src/job/code_words.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include <fmt/format.h>

#include "assess/units/date.hpp"
#include "assess/wood/pole_class.hpp"
#include "geo/io/value_text.hpp"
#include "src/job/job_values.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

constexpr std::array<std::string_view, 15> kPoleClasses{
    "10", "9", "7", "6", "5", "4", "3", "2", "1", "H1", "H2", "H3", "H4", "H5", "H6"};

/// Of an open field any word may be meant, but hardly one that is a letter off a known one.
void must_be_one_of_the_words(const JsonNode& node,
                              const std::string& word,
                              const ContractField& field) {
    const auto slip = field.open ? word_one_letter_off(word, field.words) : std::nullopt;
    if (slip) {
        node.fail_value(fmt::format("is hardly meant (did you mean \"{}\"?)", *slip));
    }
    if (!field.open && std::ranges::find(field.words, word) == field.words.end()) {
        node.fail_value(fmt::format("is not one of \"{}\"{}",
                                    fmt::join(field.words, "\", \""),
                                    did_you_mean(word, field.words)));
    }
}

void must_be_day(const JsonNode& node, const std::string& text) {
    if (!Date::parse(text)) {
        node.fail_value("is no day; YYYY-MM-DD is wanted");
    }
}

}  // namespace

std::optional<std::string> code_meaning(const JsonNode& node, const ContractField& field) {
    auto word = scalar_text(node);
    if (!word) {
        return word;
    }
    if (field.quantity == Quantity::code) {
        must_be_one_of_the_words(node, *word, field);
    }
    if (field.name == "pole_class" && !parse_pole_class(*word)) {
        node.fail_value(fmt::format("is no pole class; they are \"{}\"{}",
                                    fmt::join(kPoleClasses, "\", \""),
                                    did_you_mean(*word, kPoleClasses)));
    }
    if (field.quantity == Quantity::boolean && *word != "true" && *word != "false") {
        node.fail_value("stands where true, false or null is wanted");
    }
    if (field.quantity == Quantity::date) {
        must_be_day(node, *word);
    }
    const bool number = is_dimension(field.quantity) || field.quantity == Quantity::number;
    if (number && !parse_number(*word).value) {
        node.fail_value("stands where a number is wanted");
    }
    return word;
}

}  // namespace linewood
