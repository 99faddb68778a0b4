#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace linewood {

/// Where an output is made before it is shown: a hidden name beside the target, swapped in at the end
/// by renaming. Knows nothing of formats.
class OutputPlace {
public:
    /// `tree`: a folder that holds folders.
    enum class Form { file, folder, tree };
    /// Whether a file in a folder (or tree) that is to be replaced was written by this tool.
    using IsOwn = std::function<bool(const std::filesystem::path&)>;

    /// Removes what dead runs left beside the target (a sentence each in `notes`), and reserves the
    /// name. A folder is created; a file's name is only tried.
    /// @throws DataError where the target exists and `overwrite` is off, is of the other form, has a
    /// database's side files beside it, is a folder with foreign files in it, or cannot be written.
    /// @param is_own of a folder; nothing: the files of a dataset's layers, as `fields.csv` lists them.
    OutputPlace(const std::filesystem::path& target,
                Form form,
                bool overwrite,
                std::vector<std::string>& notes,
                IsOwn is_own = {});
    ~OutputPlace();
    OutputPlace(const OutputPlace&) = delete;
    OutputPlace& operator=(const OutputPlace&) = delete;
    OutputPlace(OutputPlace&&) = delete;
    OutputPlace& operator=(OutputPlace&&) = delete;

    const std::filesystem::path& target() const { return target_; }
    /// The hidden file or folder.
    const std::filesystem::path& work() const { return work_; }

    /// Flushes everything to the disk and renames it to the target. @throws DataError; the target is then
    /// as it was.
    void publish();
    /// Removes the hidden file or folder. Harmless after publish().
    void discard() noexcept;

private:
    void check_target() const;
    void sync_all() const;
    void swap_in();

    std::filesystem::path target_;
    std::filesystem::path work_;
    Form form_;
    bool overwrite_;
    IsOwn is_own_;
    bool done_ = false;
};

}  // namespace linewood
