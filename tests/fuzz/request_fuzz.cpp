// Whatever a client sends, what is read of it names files below the folder only, and ranges inside of a file.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "geo/io/value_text.hpp"
#include "src/serve/byte_range.hpp"
#include "src/serve/host_check.hpp"
#include "src/serve/request_head.hpp"
#include "src/serve/request_path.hpp"

namespace linewood {
namespace {

void require(bool holds) {
    if (!holds) {
        __builtin_trap();
    }
}

void check_path(std::string_view target) {
    const auto path = read_request_path(target);
    if (!path) {
        return;
    }
    require(path->folder || !path->names.empty());
    for (const std::string& name : path->names) {
        require(!name.empty() && name.front() != '.' && name.size() <= 255 && is_utf8(name));
        require(name.find_first_of(std::string_view{"/\\\0", 3}) == std::string::npos);
    }
    if (!path->names.empty()) {
        const auto again = read_request_path(path->url());
        require(again && again->names == path->names && again->folder == path->folder);
    }
}

void check_ranges(std::string_view header, std::uint64_t bytes) {
    const AskedRanges asked = read_ranges(header, bytes);
    std::uint64_t total = 0;
    for (const ByteRange& range : asked.ranges) {
        require(range.length > 0 && range.begin < bytes && range.length <= bytes - range.begin);
        total += range.length;
    }
    require(total <= bytes);
    require((asked.kind == AskedRanges::Kind::parts) == !asked.ranges.empty());
}

}  // namespace
}  // namespace linewood

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace linewood;
    const std::string_view text{reinterpret_cast<const char*>(data), size};
    check_path(text);
    for (const std::uint64_t bytes :
         {std::uint64_t{0}, std::uint64_t{1}, std::uint64_t{1000}, ~std::uint64_t{0}}) {
        check_ranges(text, bytes);
    }
    static const HostCheck host{{"192.0.2.1"}};
    host.allows(text);
    require(!end_of_head(text) || *end_of_head(text) <= size);
    if (const auto head = read_request_head(text)) {
        require(end_of_head(text).has_value());
        check_path(head->target);
    }
    return 0;
}
