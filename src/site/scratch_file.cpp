#include "src/site/scratch_file.hpp"

#include <cerrno>
#include <system_error>

#include <fcntl.h>
#include <unistd.h>

#include "geo/io/data_error.hpp"

namespace linewood {
namespace {

[[noreturn]] void fail(const std::filesystem::path& folder, const char* what) {
    const std::string why = std::generic_category().message(errno);
    throw DataError{folder.string(), "", std::string{what} + " (" + why + ")"};
}

int open_unnamed(const std::filesystem::path& folder) {
    std::string name = (folder / ".linewood-XXXXXX").string();
    const int file = ::mkostemp(name.data(), O_CLOEXEC);
    if (file >= 0) {
        ::unlink(name.c_str());
    }
    return file;
}

}  // namespace

ScratchFile::ScratchFile(const std::filesystem::path& folder)
    : folder_{folder}, file_{open_unnamed(folder)} {
    if (file_ < 0) {
        fail(folder, "no file can be made in this folder; is it there, and yours to write to?");
    }
}

ScratchFile::~ScratchFile() { ::close(file_); }

void ScratchFile::append(std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(file_, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) {
            continue;
        }
        if (written < 0) {
            fail(folder_, "the rows for the tiles cannot be kept here; is the disk full?");
        }
        size_ += static_cast<std::uint64_t>(written);
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
}

void ScratchFile::read(std::uint64_t begin, std::size_t bytes, std::string& out) const {
    out.resize(bytes);
    std::size_t done = 0;
    while (done < bytes) {
        const ssize_t got =
            ::pread(file_, out.data() + done, bytes - done, static_cast<off_t>(begin + done));
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got <= 0) {
            fail(folder_, "the rows kept for the tiles cannot be read again");
        }
        done += static_cast<std::size_t>(got);
    }
}

}  // namespace linewood
