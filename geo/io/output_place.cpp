#include "geo/io/output_place.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <set>
#include <string_view>
#include <system_error>

#include <fcntl.h>
#include <unistd.h>

#include "geo/io/data_error.hpp"

namespace linewood {
namespace {

namespace fs = std::filesystem;

constexpr std::array kSideFiles{"-journal", "-wal", "-shm"};

/// File kinds an output folder of this tool may hold.
constexpr std::array<std::string_view, 18> kOwnKinds{".fgb",
                                                     ".geojson",
                                                     ".shp",
                                                     ".shx",
                                                     ".dbf",
                                                     ".prj",
                                                     ".cpg",
                                                     ".csv",
                                                     ".qix",
                                                     ".json",
                                                     ".qml",
                                                     ".csvt",
                                                     ".geojsonl",
                                                     ".gml",
                                                     ".xsd",
                                                     ".kml",
                                                     ".xlsx",
                                                     ".ods"};

/// Eight letters that tell this machine from others that share the disk: their process numbers mean
/// nothing here.
std::string host_mark() {
    std::array<char, 256> name{};
    ::gethostname(name.data(), name.size() - 1);
    std::uint32_t hash = 2166136261U;  // FNV-1a
    for (const char c : std::string_view{name.data()}) {
        hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    }
    std::array<char, 9> text{};
    std::snprintf(text.data(), text.size(), "%08x", hash);
    return text.data();
}

std::string hidden_prefix(const fs::path& target) {
    return "." + target.filename().string().substr(0, 150) + ".linewood-" + host_mark() + "-";
}

fs::path parent_of(const fs::path& path) {
    const fs::path parent = path.parent_path();
    return parent.empty() ? fs::path{"."} : parent;
}

/// Symbolic links are followed and a closing slash dropped, so that renaming meets the thing itself.
fs::path resolved(const fs::path& target) {
    fs::path path = target;
    if (path.filename().empty()) {
        path = path.parent_path();
    }
    std::error_code error;
    if (fs::is_symlink(path, error)) {
        const fs::path real = fs::weakly_canonical(path, error);
        return error ? path : real;
    }
    return path;
}

/// A link that leads nowhere could only be found out at the end, when the result is to take its place.
void check_link(const fs::path& target) {
    fs::path path = target;
    if (path.filename().empty()) {
        path = path.parent_path();
    }
    std::error_code error;
    if (fs::is_symlink(path, error) && !fs::exists(path, error)) {
        throw DataError{target.string(),
                        "",
                        "this is a symbolic link to '" + fs::read_symlink(path, error).string() +
                            "', which is not there; remove the link, or name the place itself"};
    }
}

void remove_with_side_files(const fs::path& path) noexcept {
    std::error_code error;
    fs::remove_all(path, error);
    for (const char* side : kSideFiles) {
        fs::remove(path.string() + side, error);
    }
}

bool process_lives(long pid) { return ::kill(static_cast<pid_t>(pid), 0) == 0 || errno != ESRCH; }

/// Names begun by runs of this machine that live no longer.
void remove_leftovers(const fs::path& target, std::vector<std::string>& notes) {
    const std::string prefix = hidden_prefix(target);
    std::vector<fs::path> dead;
    std::error_code error;
    for (fs::directory_iterator it{parent_of(target), error}, end; !error && it != end;
         it.increment(error)) {
        const std::string name = it->path().filename().string();
        if (name.rfind(prefix, 0) != 0) {
            continue;
        }
        long pid = 0;
        const auto parsed =
            std::from_chars(name.data() + prefix.size(), name.data() + name.size(), pid);
        if (parsed.ec == std::errc{} && pid > 0 && !process_lives(pid)) {
            dead.push_back(it->path());
        }
    }
    for (const fs::path& path : dead) {
        fs::remove_all(path, error);
        notes.push_back("removed '" + path.filename().string() +
                        "', left unfinished by an earlier run");
    }
}

[[noreturn]] void throw_system(const fs::path& path, const std::string& what, int code) {
    std::string message = what + ": " + std::strerror(code);  // NOLINT(concurrency-mt-unsafe)
    if (code == ENOSPC || code == EDQUOT || code == EFBIG) {
        message += "; free some space or choose another place";
    } else if (code == EROFS || code == EACCES || code == EPERM) {
        message += "; choose a place that can be written";
    }
    throw DataError{path.string(), "", message};
}

void sync_path(const fs::path& path, int flags) {
    const int fd =
        ::open(path.c_str(), flags | O_CLOEXEC);  // NOLINT(cppcoreguidelines-pro-type-vararg)
    if (fd < 0) {
        throw_system(path, "the result cannot be opened for flushing", errno);
    }
    const int result = ::fsync(fd);
    const int code = errno;
    ::close(fd);
    // Some file systems cannot flush a folder; the files themselves are what matters.
    if (result != 0 && code != EINVAL && code != ENOTSUP) {
        throw_system(path, "flushing to the disk failed", code);
    }
}

/// Everything of the file system that holds `path` at once: a tree may have ten thousands of files.
void sync_file_system(const fs::path& path) {
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg)
    const int fd = ::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) {
        throw_system(path, "the result cannot be opened for flushing", errno);
    }
    const int result = ::syncfs(fd);
    const int code = errno;
    ::close(fd);
    if (result != 0 && code != ENOSYS) {
        throw_system(path, "flushing to the disk failed", code);
    }
}

/// The layers that the list of fields beside them names; empty where there is no such list.
std::set<std::string> layers_listed(const fs::path& folder) {
    std::set<std::string> layers;
    std::ifstream list{folder / "fields.csv"};
    std::string line;
    std::getline(list, line);  // the header
    while (std::getline(list, line)) {
        layers.insert(line.substr(0, line.find(',')));
    }
    return layers;
}

/// Written by this tool: a file of a kind it writes, called like one of the layers listed (or like one
/// with a suffix, as `poles_nogeom.csv`).
bool is_own_file(const fs::path& file, const std::set<std::string>& layers) {
    const std::string kind = file.extension().string();
    const std::string stem = file.stem().string();
    const auto names = [&](const std::string& layer) {
        return stem == layer || stem.rfind(layer + "_", 0) == 0;
    };
    return std::find(kOwnKinds.begin(), kOwnKinds.end(), kind) != kOwnKinds.end() &&
           (file.filename() == "fields.csv" || file.filename() == "fields.json" ||
            std::any_of(layers.begin(), layers.end(), names));
}

[[noreturn]] void throw_foreign(const fs::path& folder, const fs::path& entry) {
    throw DataError{folder.string(),
                    "",
                    "not replaced, because it holds '" + entry.lexically_relative(folder).string() +
                        "', which this tool did not write; choose another folder"};
}

bool is_plain_file(const fs::directory_entry& entry) {
    return entry.is_regular_file() && !entry.is_symlink();
}

void check_folder_is_ours(const fs::path& folder, const OutputPlace::IsOwn& is_own) {
    const std::set<std::string> layers = layers_listed(folder);
    const auto ours = [&](const fs::path& file) {
        return is_own ? is_own(file) : is_own_file(file, layers);
    };
    std::error_code error;
    for (fs::directory_iterator it{folder, error}, end; !error && it != end; it.increment(error)) {
        if (!is_plain_file(*it) || !ours(it->path())) {
            throw_foreign(folder, it->path());
        }
    }
}

/// The same of a folder with folders; links are not followed.
void check_tree_is_ours(const fs::path& folder, const OutputPlace::IsOwn& is_own) {
    std::error_code error;
    for (fs::recursive_directory_iterator it{folder, error}, end; !error && it != end;
         it.increment(error)) {
        const bool inner = it->is_directory() && !it->is_symlink();
        if (!inner && (!is_plain_file(*it) || !is_own(it->path()))) {
            throw_foreign(folder, it->path());
        }
    }
    if (error) {
        throw DataError{folder.string(),
                        "",
                        "not replaced, because not all of it can be looked at: " + error.message() +
                            "; choose another folder"};
    }
}

}  // namespace

OutputPlace::OutputPlace(const fs::path& target,
                         Form form,
                         bool overwrite,
                         std::vector<std::string>& notes,
                         IsOwn is_own)
    : target_{resolved(target)}, form_{form}, overwrite_{overwrite}, is_own_{std::move(is_own)} {
    check_link(target);
    std::error_code error;
    const fs::path parent = parent_of(target_);
    if (!fs::is_directory(parent, error)) {
        throw DataError{target.string(),
                        "",
                        "the folder '" + parent.string() + "' does not exist; create it first"};
    }
    check_target();
    remove_leftovers(target_, notes);

    static std::atomic<int> serial{0};
    const std::string name =
        hidden_prefix(target_) + std::to_string(::getpid()) + "-" + std::to_string(++serial);
    work_ = parent / (form_ == Form::file ? name + target_.extension().string() : name);
    if (form_ != Form::file) {
        if (!fs::create_directory(work_, error)) {
            throw_system(target_, "the output cannot be created", error.value());
        }
        return;
    }
    // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg)
    const int fd = ::open(work_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd < 0) {
        throw_system(target_, "the output cannot be created", errno);
    }
    ::close(fd);
    ::unlink(work_.c_str());
}

OutputPlace::~OutputPlace() { discard(); }

void OutputPlace::check_target() const {
    std::error_code error;
    if (form_ == Form::file) {
        for (const char* side : kSideFiles) {
            if (fs::exists(target_.string() + side, error)) {
                throw DataError{target_.string(),
                                "",
                                "a file '" + target_.filename().string() + side +
                                    "' lies beside it: the GeoPackage is open in another program, "
                                    "or was not closed by one; close it there, or choose another "
                                    "name"};
            }
        }
    }
    if (!fs::exists(target_, error)) {
        return;
    }
    const bool is_folder = fs::is_directory(target_, error);
    if (is_folder != (form_ != Form::file)) {
        throw DataError{target_.string(),
                        "",
                        is_folder ? "this is a folder; give the name of a file"
                                  : "this is a file; give the name of a folder"};
    }
    if (!overwrite_) {
        throw DataError{target_.string(),
                        "",
                        "it exists already; give --overwrite to replace it, or another name"};
    }
    if (form_ == Form::tree) {
        check_tree_is_ours(target_, is_own_);
    } else if (is_folder) {
        check_folder_is_ours(target_, is_own_);
    }
}

void OutputPlace::sync_all() const {
    if (form_ == Form::file) {
        sync_path(work_, O_RDONLY);
        return;
    }
    if (form_ == Form::tree) {
        sync_file_system(work_);
        return;
    }
    for (const auto& entry : fs::directory_iterator{work_}) {
        sync_path(entry.path(), O_RDONLY);
    }
    sync_path(work_, O_RDONLY | O_DIRECTORY);
}

void OutputPlace::swap_in() {
    if (!overwrite_) {
        if (::renameat2(AT_FDCWD, work_.c_str(), AT_FDCWD, target_.c_str(), RENAME_NOREPLACE) ==
            0) {
            return;
        }
        if (errno != EINVAL && errno != ENOSYS) {
            throw_system(target_, "the finished output cannot be put in its place", errno);
        }
    }
    check_target();  // it may have appeared meanwhile
    std::error_code error;
    if (form_ != Form::file && fs::exists(target_, error)) {
        if (::renameat2(AT_FDCWD, work_.c_str(), AT_FDCWD, target_.c_str(), RENAME_EXCHANGE) == 0) {
            fs::remove_all(work_, error);  // the one before
            return;
        }
        // Where exchanging is not known: aside, in, remove.
        const fs::path aside = work_.string() + "-before";
        if (::rename(target_.c_str(), aside.c_str()) != 0) {
            throw_system(target_, "the present folder cannot be replaced", errno);
        }
        if (::rename(work_.c_str(), target_.c_str()) != 0) {
            const int code = errno;
            if (::rename(aside.c_str(), target_.c_str()) != 0) {
                throw_system(target_, "the present folder is now '" + aside.string() + "'", errno);
            }
            throw_system(target_, "the finished output cannot be put in its place", code);
        }
        fs::remove_all(aside, error);
        return;
    }
    if (::rename(work_.c_str(), target_.c_str()) != 0) {
        throw_system(target_, "the finished output cannot be put in its place", errno);
    }
}

void OutputPlace::publish() {
    sync_all();
    swap_in();
    done_ = true;
    try {
        sync_path(parent_of(target_), O_RDONLY | O_DIRECTORY);
    } catch (const DataError&) {
        // The result stands; only its name may be lost in a power cut within seconds.
        return;
    }
}

void OutputPlace::discard() noexcept {
    if (!done_) {
        done_ = true;
        remove_with_side_files(work_);
    }
}

}  // namespace linewood
