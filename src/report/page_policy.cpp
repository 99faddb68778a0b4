#include "src/report/page_policy.hpp"

#include "src/job/checksum.hpp"

namespace linewood {

std::string page_policy(std::string_view style) {
    return "default-src 'none'; style-src 'sha256-" + sha256_base64_of(style) +
           "'; base-uri 'none'; form-action 'none'";
}

}  // namespace linewood
