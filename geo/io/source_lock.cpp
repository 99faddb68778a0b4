#include "geo/io/source_lock.h"

#include <cerrno>
#include <cstring>
#include <string>
#include <vector>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include "geo/io/data_error.hpp"

namespace linewood {
namespace {

// Where SQLite locks a file that it is going to write (from memory; a test holds it against SQLite itself).
constexpr off_t kReservedByte = 0x40000001;

bool lock(int handle) {
    struct flock wanted = {};
    wanted.l_type = F_WRLCK;
    wanted.l_whence = SEEK_SET;
    wanted.l_start = kReservedByte;
    wanted.l_len = 1;
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg)
    return ::fcntl(handle, F_OFD_SETLK, &wanted) == 0;
}

[[noreturn]] void refuse_open(const std::filesystem::path& file) {
    throw DataError{file.string(),
                    "",
                    "another program has it open to write; close it there and try again, or write "
                    "to another place with --out"};
}

[[noreturn]] void fail(const std::filesystem::path& file, const std::string& doing) {
    const std::string said = std::strerror(errno);  // NOLINT(concurrency-mt-unsafe)
    throw DataError{file.string(), "", doing + ": " + said};
}

void write_all(int to, const char* bytes, std::size_t size, const std::filesystem::path& copy) {
    while (size > 0) {
        const ssize_t done = ::write(to, bytes, size);
        if (done < 0 && errno != EINTR) {
            fail(copy, "the copy beside it cannot be written; free some space");
        }
        if (done > 0) {
            bytes += done;
            size -= static_cast<std::size_t>(done);
        }
    }
}

}  // namespace

SourceLock::SourceLock(const std::filesystem::path& file)
    : file_{file},
      // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg)
      handle_{::open(file.c_str(), O_RDWR | O_CLOEXEC)} {
    if (handle_ < 0) {
        fail(file, "it cannot be opened to be changed; check its permissions");
    }
    if (!lock(handle_)) {
        ::close(handle_);
        refuse_open(file);
    }
    struct stat state = {};
    ::fstat(handle_, &state);
    size_ = state.st_size;
    seconds_ = state.st_mtim.tv_sec;
    nanoseconds_ = state.st_mtim.tv_nsec;
}

SourceLock::~SourceLock() { ::close(handle_); }

void SourceLock::copy_to(const std::filesystem::path& copy) const {
    struct stat state = {};
    ::fstat(handle_, &state);
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg)
    const int to = ::open(copy.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (to < 0) {
        fail(copy, "no copy can be made beside it; check the permissions of its folder");
    }
    try {
        std::vector<char> block(std::size_t{1} << 20U);
        off_t at = 0;
        for (ssize_t got = 0; (got = ::pread(handle_, block.data(), block.size(), at)) > 0;) {
            write_all(to, block.data(), static_cast<std::size_t>(got), copy);
            at += got;
        }
        if (at != state.st_size) {
            fail(file_, "it cannot be read whole");
        }
    } catch (...) {
        ::close(to);
        throw;
    }
    // Who may read and write it stays as it was, as far as this user may say so.
    if (::fchown(to, state.st_uid, state.st_gid) != 0 && ::fchown(to, ~0U, state.st_gid) != 0) {
        errno = 0;
    }
    ::fchmod(to, state.st_mode & 07777U);
    ::close(to);
}

bool SourceLock::is_changed() const {
    struct stat named = {};
    struct stat held = {};
    return ::stat(file_.c_str(), &named) != 0 || ::fstat(handle_, &held) != 0 ||
           named.st_ino != held.st_ino || named.st_dev != held.st_dev || held.st_size != size_ ||
           held.st_mtim.tv_sec != seconds_ || held.st_mtim.tv_nsec != nanoseconds_;
}

void SourceLock::check_unchanged() const {
    if (is_changed()) {
        throw DataError{
            file_.string(),
            "",
            "it was changed by another program meanwhile; nothing was written. Close it "
            "there and run again"};
    }
}

}  // namespace linewood
