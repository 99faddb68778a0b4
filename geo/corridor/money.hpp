#pragma once

#include <cmath>
#include <compare>
#include <cstdint>

namespace linewood {

/// An amount of money, to a thousandth of its unit, so that totals are the sums of their parts to the
/// last digit. Which currency is the caller's business. Up to 9e15 units.
class Money {
public:
    constexpr Money() = default;

    /// Rounded to the thousandth. @pre finite, at most 9e15 either way.
    static Money units(double v) { return Money{std::llround(v * 1000.0)}; }
    static constexpr Money thousandths(std::int64_t v) { return Money{v}; }

    constexpr double units() const { return static_cast<double>(thousandths_) / 1000.0; }
    constexpr std::int64_t thousandths() const { return thousandths_; }

    friend constexpr auto operator<=>(Money, Money) = default;
    friend constexpr Money operator+(Money a, Money b) {
        return Money{a.thousandths_ + b.thousandths_};
    }
    friend constexpr Money operator-(Money a, Money b) {
        return Money{a.thousandths_ - b.thousandths_};
    }
    friend constexpr Money operator*(std::int64_t n, Money a) { return Money{n * a.thousandths_}; }
    Money& operator+=(Money b) {
        thousandths_ += b.thousandths_;
        return *this;
    }

private:
    explicit constexpr Money(std::int64_t thousandths) : thousandths_{thousandths} {}

    std::int64_t thousandths_ = 0;
};

}  // namespace linewood
