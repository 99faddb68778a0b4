#pragma once

#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// Values of coded columns that the job file gives no meaning to, by where they are mapped.
class UnknownCodes {
public:
    /// @param path of the mapping in the job file. @param column as the layer calls it.
    /// @param words what could be meant. @param row a row counts once, however often it is asked.
    void add(const std::string& path,
             std::string_view column,
             std::string_view value,
             std::int64_t row,
             std::span<const std::string_view> words);

    bool empty() const { return mappings_.empty(); }
    /// One line a mapping: its path, the values with their counts, and what could be meant.
    std::string told() const;

private:
    static constexpr std::size_t kMostValues = 1000;
    struct Seen {
        std::int64_t count = 0;
        std::int64_t last_row = -1;
    };
    struct Mapping {
        std::string column;
        std::vector<std::string> words;
        std::map<std::string, Seen, std::less<>> values;
    };
    std::map<std::string, Mapping> mappings_;
};

}  // namespace linewood
