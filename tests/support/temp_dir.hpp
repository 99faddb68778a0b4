#pragma once

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <unistd.h>

namespace linewood::testing {

/// A folder of its own for one test, removed with all it holds.
class TempDir {
public:
    explicit TempDir(const std::filesystem::path& parent = std::filesystem::temp_directory_path()) {
        std::string pattern = (parent / "linewood-test-XXXXXX").string();
        if (::mkdtemp(pattern.data()) == nullptr) {
            throw std::runtime_error("no temporary folder");
        }
        path_ = pattern;
    }
    ~TempDir() {
        std::error_code error;
        std::filesystem::remove_all(path_, error);
    }
    TempDir(const TempDir&) = delete;
    TempDir& operator=(const TempDir&) = delete;

    const std::filesystem::path& path() const { return path_; }
    std::filesystem::path operator/(std::string_view name) const { return path_ / name; }

    /// Writes a file of that content and gives its path.
    std::filesystem::path file(std::string_view name, std::string_view content) const {
        std::filesystem::path path = path_ / name;
        std::filesystem::create_directories(path.parent_path());
        std::ofstream out{path, std::ios::binary};
        out.write(content.data(), static_cast<std::streamsize>(content.size()));
        return path;
    }

    /// Names of what lies in the folder (or in a folder of it), hidden ones included, sorted.
    std::vector<std::string> names(std::string_view folder = "") const {
        std::vector<std::string> out;
        for (const auto& entry : std::filesystem::directory_iterator{path_ / folder}) {
            out.push_back(entry.path().filename().string());
        }
        std::sort(out.begin(), out.end());
        return out;
    }

private:
    std::filesystem::path path_;
};

/// Where files live in memory, for tests that write many small datasets; else the usual place.
inline std::filesystem::path fast_place() {
    const std::filesystem::path memory{"/dev/shm"};
    return std::getenv("TMPDIR") == nullptr && ::access(memory.c_str(), W_OK) == 0
               ? memory
               : std::filesystem::temp_directory_path();
}

/// A file's bytes; empty where there is no file.
inline std::string content_of(const std::filesystem::path& path) {
    std::ifstream in{path, std::ios::binary};
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

}  // namespace linewood::testing
