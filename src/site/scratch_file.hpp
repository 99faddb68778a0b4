#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

namespace linewood {

/// A file without a name: bytes that are too many for memory, gone with the object however the run ends.
class ScratchFile {
public:
    /// @param folder where there is room for it. @throws DataError where none can be made there.
    explicit ScratchFile(const std::filesystem::path& folder);
    ~ScratchFile();
    ScratchFile(const ScratchFile&) = delete;
    ScratchFile& operator=(const ScratchFile&) = delete;

    /// @throws DataError where the disk takes no more.
    void append(std::string_view bytes);
    std::uint64_t size() const { return size_; }
    /// By any number of threads at once, while nothing is appended. @pre there are so many bytes at `begin`
    /// @throws DataError where the disk does not give them back.
    void read(std::uint64_t begin, std::size_t bytes, std::string& out) const;

private:
    std::filesystem::path folder_;
    int file_ = -1;
    std::uint64_t size_ = 0;
};

}  // namespace linewood
