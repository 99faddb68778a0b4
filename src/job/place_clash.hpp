#pragma once

#include <filesystem>
#include <span>
#include <string_view>

namespace linewood {

/// Whether both names lead to one file, by whatever spelling or link. No where either is not there.
bool same_file(const std::filesystem::path& a, const std::filesystem::path& b);

/// Whether writing to `out`, a file or a folder, would replace the file `read`.
bool replaces(const std::filesystem::path& out, const std::filesystem::path& read);

/// Refuses an output that would replace a file that the run has read.
/// @param option that names the output, for the message. @throws JobError naming both.
void refuse_to_replace(std::string_view option,
                       const std::filesystem::path& out,
                       std::span<const std::filesystem::path> read);

}  // namespace linewood
