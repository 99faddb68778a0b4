#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "src/job/contract_fields.hpp"
#include "src/job/draft_words.hpp"
#include "src/pipeline/column_profile.hpp"

namespace linewood {

/// A text by which people write that there is nothing: `n/a`, `-`, `-9999`.
bool is_null_marker(const std::string& text);

/// The usual patterns by which all texts of a column are days, null markers aside; of two that say the same, one.
std::vector<std::string_view> date_patterns(const ColumnProfile& column);

/// Which columns are which fields: the surest pair first, each column and each field once.
class FieldPlacing {
public:
    /// @pre columns and names are of the same length, and outlive it
    FieldPlacing(InputLayer role,
                 const std::vector<const ColumnProfile*>& columns,
                 const std::vector<NameWords>& names)
        : role_{role}, columns_{columns}, names_{names} {}

    struct Pair {
        const ContractField* field;
        std::size_t column;
        double sure;
    };

    /// All that could be thought of, the surest first.
    std::vector<Pair> all_pairs() const;
    /// Those that stand.
    std::vector<Pair> place() const;

private:
    double less_a_rival(const Pair& pair, const std::vector<Pair>& pairs) const;

    InputLayer role_;
    const std::vector<const ColumnProfile*>& columns_;
    const std::vector<NameWords>& names_;
};

}  // namespace linewood
