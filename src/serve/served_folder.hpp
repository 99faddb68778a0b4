#pragma once

#include <cstdint>
#include <ctime>
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "src/serve/request_path.hpp"

namespace linewood {

/// A file that is being sent. Stays what it was when it was opened, whatever happens to its name.
class ServedFile {
public:
    /// @param descriptor its own from now on
    ServedFile(int descriptor, std::uint64_t bytes, std::time_t changed, std::string tag);
    ~ServedFile();
    ServedFile(const ServedFile&) = delete;
    ServedFile& operator=(const ServedFile&) = delete;

    std::uint64_t bytes() const { return bytes_; }
    std::time_t changed() const { return changed_; }
    /// Another one whenever the content is: `"…"`, for ETag.
    const std::string& tag() const { return tag_; }
    /// So many bytes from `begin` on, fewer where the file has become shorter or cannot be read.
    std::string read(std::uint64_t begin, std::size_t bytes) const;

private:
    int descriptor_;
    std::uint64_t bytes_;
    std::time_t changed_;
    std::string tag_;
};

/// A folder whose files are served. Names are opened one below the other, none of them a symbolic link, so that
/// nothing outside can be reached even while the folder is being changed. Where the folder has been replaced by a new one of
/// the same name, as publishing again does, the new one is served.
class ServedFolder {
public:
    /// @throws DataError where it is no folder that can be read.
    explicit ServedFolder(const std::filesystem::path& folder);
    ~ServedFolder();
    ServedFolder(const ServedFolder&) = delete;
    ServedFolder& operator=(const ServedFolder&) = delete;

    /// The regular file of that path; of a folder its `index.html`. Null where there is none.
    std::shared_ptr<const ServedFile> open(const RequestPath& path) const;

private:
    int root() const;

    std::filesystem::path folder_;
    mutable std::mutex root_mutex_;
    mutable int root_;
};

/// The page of a folder.
inline constexpr const char* kFolderPage = "index.html";

}  // namespace linewood
