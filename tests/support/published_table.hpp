#pragma once

#include <charconv>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "tests/places/places.hpp"

namespace linewood::test {

/// Rows of a file of tests/published: words parted by blanks; `#` starts a line of source and remarks.
/// @throws std::runtime_error where the file cannot be read or has no rows.
inline std::vector<std::vector<std::string>> published_table(const std::string& file) {
    const std::string path = testing::test_file("published/" + file);
    std::ifstream in{path};
    std::vector<std::vector<std::string>> rows;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line.front() == '#') {
            continue;
        }
        std::istringstream words{line};
        std::vector<std::string> row;
        for (std::string word; words >> word;) {
            row.push_back(word);
        }
        rows.push_back(row);
    }
    if (rows.empty()) {
        throw std::runtime_error("no rows in " + path);
    }
    return rows;
}

/// @throws std::runtime_error where `word` is no number from end to end.
inline double number(std::string_view word) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (error != std::errc{} || end != word.data() + word.size()) {
        throw std::runtime_error("not a number: " + std::string{word});
    }
    return value;
}

}  // namespace linewood::test
