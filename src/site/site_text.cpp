#include "src/site/site_text.hpp"

#include <fstream>
#include <iterator>

#include "geo/io/data_error.hpp"

namespace linewood {

std::string file_text(const std::filesystem::path& path) {
    std::ifstream in{path, std::ios::binary};
    std::string text{std::istreambuf_iterator<char>{in}, {}};
    if (!in) {
        throw DataError{path.string(), "", "cannot be read; check the name"};
    }
    return text;
}

std::string statement_of(const Provenance& run, std::string_view item) {
    for (const auto& [name, value] : run.statements) {
        if (name == item) {
            return value;
        }
    }
    return {};
}

std::string shown_name(const std::filesystem::path& dataset) {
    return (dataset.has_filename() ? dataset : dataset.parent_path()).filename().string();
}

}  // namespace linewood
