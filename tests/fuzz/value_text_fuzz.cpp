// Any bytes in a cell are a value, blank or refused; a number's digits read back as the same number;
// repaired text is well-formed and changes no text that was.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

void require(bool holds) {
    if (!holds) {
        __builtin_trap();
    }
}

void check(std::string_view text) {
    const auto number = parse_number(text);
    require(number.value.has_value() == (number.status == ValueStatus::ok));
    if (number.value) {
        require(std::isfinite(*number.value));
        require(parse_number(number_text(*number.value)).value == number.value);
    }
    const auto date = parse_date(text);
    if (date.value) {
        require(parse_date(date.value->to_string()).value == date.value);
    }
    (void)parse_boolean(text);
    const std::string repaired = repaired_utf8(text);
    require(is_utf8(repaired));
    require(!is_utf8(text) || repaired == text);
    for (std::size_t bytes = 0; bytes <= repaired.size() && bytes < 9; ++bytes) {
        const std::string_view prefix = utf8_prefix(repaired, bytes);
        require(prefix.size() <= bytes && is_utf8(prefix));
    }
}

}  // namespace
}  // namespace linewood

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    linewood::check(std::string_view{reinterpret_cast<const char*>(data), size});
    return 0;
}
