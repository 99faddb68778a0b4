#include "src/job/place_clash.hpp"

#include <string>
#include <system_error>

#include "src/job/job_error.hpp"

namespace linewood {
namespace fs = std::filesystem;

bool same_file(const fs::path& a, const fs::path& b) {
    std::error_code error;
    return fs::equivalent(a, b, error) && !error;
}

bool replaces(const fs::path& out, const fs::path& read) {
    std::error_code error;
    // The folder where the name stands, and the one where a link leads to.
    return same_file(read, out) || same_file(fs::absolute(read, error).parent_path(), out) ||
           same_file(fs::weakly_canonical(read, error).parent_path(), out);
}

void refuse_to_replace(std::string_view option,
                       const fs::path& out,
                       std::span<const fs::path> read) {
    for (const fs::path& file : read) {
        // A small file is made under the second name first.
        if (replaces(out, file) || same_file(out.string() + ".part", file)) {
            throw JobError{std::string{option} + " " + out.string() + " would replace " +
                           file.string() +
                           ", which was read and is never changed; name another place"};
        }
    }
}

}  // namespace linewood
