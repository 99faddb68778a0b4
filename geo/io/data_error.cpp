#include "geo/io/data_error.hpp"

#include <regex>
#include <utility>

namespace linewood {
namespace {

std::string compose(const std::string& path, const std::string& layer, std::string_view message) {
    std::string text = shown_dataset(path);
    if (!layer.empty()) {
        text += ", layer '" + layer + "'";
    }
    text += ": ";
    text += message;
    return text;
}

}  // namespace

std::string shown_dataset(const std::string& dataset) {
    const auto begins = [&](std::string_view word) { return dataset.rfind(word, 0) == 0; };
    if (begins("PG:") && dataset.find("://") == std::string::npos) {
        // password=word or password='many words', wherever it stands
        static const std::regex kPassword{R"(password\s*=\s*('(\\.|[^'\\])*'|\S*))",
                                          std::regex::icase};
        return std::regex_replace(dataset, kPassword, "password=***");
    }
    if (begins("PG:") || begins("postgresql:") || begins("postgres:")) {
        static const std::regex kUser{R"(://([^:@/]*):[^@/]*@)"};
        static const std::regex kOption{R"(password=[^&]*)", std::regex::icase};
        return std::regex_replace(
            std::regex_replace(dataset, kUser, "://$1:***@"), kOption, "password=***");
    }
    return dataset;
}

DataError::DataError(std::string path, std::string layer, std::string_view message)
    : std::runtime_error{compose(path, layer, message)},
      path_{std::move(path)},
      layer_{std::move(layer)} {}

}  // namespace linewood
