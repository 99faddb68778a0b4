#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/job/contract_fields.hpp"

namespace linewood {

/// A column's name in its words: `OrigCirc_mm` is `orig`, `circ`, and the unit `mm` its last word stands for.
struct NameWords {
    std::vector<std::string> words;  ///< lower case, digits apart
    std::string unit;  ///< `in`, `ft`, `mm`, `cm`, `m`, `deg`; empty where none is said
};
NameWords name_words(std::string_view name);

/// How well a column's name suits a field, 0 to 1, by words that people use for it (own choice, no source).
double name_fit(const ContractField& field, const NameWords& name);

/// How well the name of a layer or file suits one of the four layers, 0 to 1.
double layer_name_fit(InputLayer layer, std::string_view name);

/// The word of a coded field that a text in the data most likely stands for, and how likely, 0 to 1.
struct CodeGuess {
    std::string_view word;
    double sure = 0.0;
};
std::optional<CodeGuess> guess_code(const ContractField& field, std::string_view text);
/// The same of yes and no in several languages.
std::optional<bool> guess_answer(std::string_view text);

}  // namespace linewood
