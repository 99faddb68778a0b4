#include "src/serve/served_folder.hpp"

#include <cerrno>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include "geo/io/data_error.hpp"

namespace linewood {
namespace {

/// A descriptor closed in the end.
class Descriptor {
public:
    explicit Descriptor(int number) : number_{number} {}
    ~Descriptor() {
        if (number_ >= 0) {
            ::close(number_);
        }
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;

    bool opened() const { return number_ >= 0; }
    int number() const { return number_; }
    int release() { return std::exchange(number_, -1); }
    void take(int number) { const Descriptor before{std::exchange(number_, number)}; }

private:
    int number_;
};

int open_folder_in(int folder, const char* name) {
    return ::openat(folder, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
}

/// A pipe or a device would make the reader wait: it is opened without, and left when it shows itself.
std::shared_ptr<const ServedFile> open_file_in(int folder, const std::string& name) {
    Descriptor file{
        ::openat(folder, name.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC)};
    struct stat what = {};
    if (!file.opened() || ::fstat(file.number(), &what) != 0 || !S_ISREG(what.st_mode)) {
        return nullptr;
    }
    std::string tag = fmt::format("\"{:x}-{:x}-{:x}{:08x}\"",
                                  what.st_ino,
                                  what.st_size,
                                  what.st_mtim.tv_sec,
                                  what.st_mtim.tv_nsec);
    return std::make_shared<ServedFile>(file.release(),
                                        static_cast<std::uint64_t>(what.st_size),
                                        what.st_mtim.tv_sec,
                                        std::move(tag));
}

}  // namespace

ServedFile::ServedFile(int descriptor, std::uint64_t bytes, std::time_t changed, std::string tag)
    : descriptor_{descriptor}, bytes_{bytes}, changed_{changed}, tag_{std::move(tag)} {}

ServedFile::~ServedFile() { ::close(descriptor_); }

std::string ServedFile::read(std::uint64_t begin, std::size_t bytes) const {
    std::string out(bytes, '\0');
    std::size_t done = 0;
    while (done < bytes) {
        const ssize_t got =
            ::pread(descriptor_, out.data() + done, bytes - done, static_cast<off_t>(begin + done));
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got <= 0) {
            break;
        }
        done += static_cast<std::size_t>(got);
    }
    out.resize(done);
    return out;
}

ServedFolder::ServedFolder(const std::filesystem::path& folder)
    : folder_{std::filesystem::absolute(folder)},
      root_{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)} {
    if (root_ < 0) {
        const std::string why = std::generic_category().message(errno);
        throw DataError{
            folder.string(),
            "",
            "is no folder that can be read (" + why + "); name one that linewood publish wrote"};
    }
}

ServedFolder::~ServedFolder() { ::close(root_); }

/// A descriptor of the folder for the caller to close. One that was removed has no name left.
int ServedFolder::root() const {
    const std::lock_guard lock{root_mutex_};
    struct stat what = {};
    if (::fstat(root_, &what) == 0 && what.st_nlink == 0) {
        const int replaced = ::open(folder_.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
        if (replaced >= 0) {
            ::close(std::exchange(root_, replaced));
        }
    }
    return ::fcntl(root_, F_DUPFD_CLOEXEC, 0);
}

std::shared_ptr<const ServedFile> ServedFolder::open(const RequestPath& path) const {
    Descriptor folder{root()};
    const std::size_t folders = path.folder ? path.names.size() : path.names.size() - 1;
    for (std::size_t i = 0; i < folders && folder.opened(); ++i) {
        folder.take(open_folder_in(folder.number(), path.names[i].c_str()));
    }
    if (!folder.opened()) {
        return nullptr;
    }
    return open_file_in(folder.number(), path.folder ? kFolderPage : path.names.back());
}

}  // namespace linewood
