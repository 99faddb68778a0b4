#pragma once

#include <cassert>
#include <cmath>
#include <limits>

namespace linewood {

/// An optional quantity in the eight bytes of its number: absent is stored as NaN, so a million
/// records stay small. `Quantity` gives `raw()` and `from_raw()` (Length, Angle, Bearing, Axis).
/// A quantity that is itself not a number reads as absent: readers refuse NaN before this.
template <typename Quantity>
class Maybe {
public:
    constexpr Maybe() = default;
    // Implicit on purpose, as in std::optional: a value is also a maybe-value.
    constexpr Maybe(Quantity q) : raw_{q.raw()} {}  // NOLINT(google-explicit-constructor)

    bool has_value() const { return !std::isnan(raw_); }
    explicit operator bool() const { return has_value(); }

    /// @pre has_value()
    Quantity value() const {
        assert(has_value());
        return Quantity::from_raw(raw_);
    }
    /// @pre has_value()
    Quantity operator*() const { return value(); }
    /// For calling the quantity's functions. @pre has_value()
    struct Held {
        Quantity quantity;
        const Quantity* operator->() const { return &quantity; }
    };
    Held operator->() const { return {value()}; }
    Quantity value_or(Quantity other) const { return has_value() ? value() : other; }

    friend bool operator==(Maybe a, Maybe b) {
        return a.has_value() == b.has_value() && (!a.has_value() || a.raw_ == b.raw_);
    }

private:
    double raw_ = std::numeric_limits<double>::quiet_NaN();
};

}  // namespace linewood
