// Whatever is typed for a defect is refused with a JobError or gives sizes of at least zero.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "src/command/typed_defect.hpp"
#include "src/job/job_error.hpp"

namespace linewood {
namespace {

void require(bool holds) {
    if (!holds) {
        __builtin_trap();
    }
}

void check(const Defect& d) {
    for (const Maybe<Length>& size : {d.width, d.depth, d.extent, d.shell_thickness}) {
        require(!size || (std::isfinite(size->metres()) && size->metres() >= 0.0));
    }
    require(!d.azimuth || (d.azimuth->degrees() >= 0.0 && d.azimuth->degrees() < 360.0));
}

void type(std::string_view text, UnitSystem units, int kind) {
    try {
        switch (kind) {
            case 0:
                return check(typed_pocket(text, units));
            case 1:
                return check(typed_bore(text, units));
            case 2:
                return check(typed_sound_bore(text));
            case 3:
                return check(typed_shell_rot(text, units));
            default:
                require(typed_length("--original", text, units).metres() >= 0.0);
        }
    } catch (const JobError&) {
        // The one error the readers may throw.
    }
}

}  // namespace
}  // namespace linewood

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    for (int kind = 0; kind <= 4; ++kind) {
        linewood::type(text, linewood::UnitSystem::us, kind);
        linewood::type(text, linewood::UnitSystem::si, kind);
    }
    return 0;
}
