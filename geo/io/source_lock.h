#pragma once

// Private to geo/io: keeps other programs from writing to a GeoPackage that is about to be replaced.

#include <cstdint>
#include <filesystem>

namespace linewood {

/// Holds the lock that SQLite takes before it writes, so that readers go on and writers are refused ("database
/// is locked"). Unlike SQLite's own, this one is not lost when the file is opened and closed elsewhere in the
/// program. Released at the end, or by the system when the program dies.
class SourceLock {
public:
    /// @throws DataError where another program is writing, or has the file open with side files.
    explicit SourceLock(const std::filesystem::path& file);
    ~SourceLock();
    SourceLock(const SourceLock&) = delete;
    SourceLock& operator=(const SourceLock&) = delete;
    SourceLock(SourceLock&&) = delete;
    SourceLock& operator=(SourceLock&&) = delete;

    /// Copies the file, byte by byte, with its permissions. @throws DataError
    void copy_to(const std::filesystem::path& copy) const;
    /// @throws DataError where the file is not the one that was locked any more.
    void check_unchanged() const;

private:
    bool is_changed() const;

    std::filesystem::path file_;
    int handle_ = -1;
    std::int64_t size_ = 0;
    std::int64_t seconds_ = 0;
    std::int64_t nanoseconds_ = 0;
};

}  // namespace linewood
