#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace linewood {

/// Why a verdict is what it is: each limit that failed, each rule that spoke. In the order of their
/// codes, so that a set written out is sorted.
enum class Reason : std::uint8_t {
    already_reinforced,
    circumference_below_limit,
    confirm_above_groundline,
    decay_above_groundline,
    decay_below_excavation,
    decay_present,
    duplicate_pole_id,
    extensive_damage,
    geometry_impossible,
    minor_damage,
    not_inspected,
    not_wood,
    nothing_measured,
    original_circumference_missing,
    original_from_tables,
    pocket_size_missing,
    present_circumference_missing,
    section_split,
    shell_below_limit,
    shell_thickness_missing,
    strength_below_limit,
    treated,
    unsafe_to_climb,
    value_unreadable,
    weakest_below_limit,
};
inline constexpr int kReasonCount = 25;

struct ReasonText {
    std::string_view code;
    std::string_view meaning;
};
/// Code and meaning in words.
ReasonText text_of(Reason r);

/// A set of reasons in four bytes.
class ReasonSet {
public:
    constexpr ReasonSet() = default;

    void add(Reason r) { bits_ |= bit(r); }
    void add(ReasonSet other) { bits_ |= other.bits_; }
    void add_if(bool condition, Reason r) { bits_ |= condition ? bit(r) : 0U; }
    bool has(Reason r) const { return (bits_ & bit(r)) != 0U; }
    bool empty() const { return bits_ == 0U; }

    /// The codes, sorted, separated by `;`.
    std::string to_string() const;

    friend bool operator==(ReasonSet, ReasonSet) = default;

private:
    static constexpr std::uint32_t bit(Reason r) { return 1U << static_cast<unsigned>(r); }
    std::uint32_t bits_ = 0;
};

}  // namespace linewood
