#include "geo/io/data_error.hpp"

#include <utility>

namespace linewood {
namespace {

std::string compose(const std::string& path, const std::string& layer, std::string_view message) {
    std::string text = path;
    if (!layer.empty()) {
        text += ", layer '" + layer + "'";
    }
    text += ": ";
    text += message;
    return text;
}

}  // namespace

DataError::DataError(std::string path, std::string layer, std::string_view message)
    : std::runtime_error{compose(path, layer, message)},
      path_{std::move(path)},
      layer_{std::move(layer)} {}

}  // namespace linewood
