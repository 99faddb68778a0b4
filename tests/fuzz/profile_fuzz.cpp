#include <cstddef>
#include <cstdint>
#include <string_view>

#include "src/job/job_error.hpp"
#include "src/job/profile.hpp"
#include "src/job/profile_settings.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

/// Whatever was let in is in its ranges, and what is written of it is the same profile.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto* text = reinterpret_cast<const char*>(data);
    try {
        const linewood::Profile p = linewood::read_profile(std::string_view{text, size});
        for (const linewood::ProfileSetting& s : linewood::profile_settings()) {
            const auto value = s.get(p);
            if (value && !(*value >= s.least && *value <= s.most)) {
                __builtin_trap();
            }
        }
        const std::string written = linewood::profile_to_json(p);
        if (linewood::profile_to_json(linewood::read_profile(written)) != written) {
            __builtin_trap();
        }
    } catch (const linewood::JobError&) {
        // The one error the reader may throw.
    }
    return 0;
}
