#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace linewood {

/// A file, a format or a disk that failed: what happened, where, and what to do next, in one
/// sentence or two for the person at the keyboard. Doubtful values in a record are never this.
class DataError : public std::runtime_error {
public:
    /// @param path the dataset or file, as the user wrote it (a password in it is left out); `layer` may be empty.
    DataError(std::string path, std::string layer, std::string_view message);

    const std::string& path() const { return path_; }
    const std::string& layer() const { return layer_; }

private:
    std::string path_;
    std::string layer_;
};

/// A dataset as messages, reports and files may call it: without the password of a connection string.
std::string shown_dataset(const std::string& dataset);

}  // namespace linewood
