#pragma once

#include <array>
#include <cassert>
#include <cstddef>
#include <cstdint>

namespace linewood::sample {

/// SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014, written
/// from its public-domain description): the same seed gives the same numbers everywhere, which the
/// distributions of the standard library do not promise.
class Random {
public:
    explicit Random(std::uint64_t seed) : state_{seed} {}
    /// A generator of its own for part `part` of a job with this seed.
    Random(std::uint64_t seed, std::uint64_t part) : state_{mixed(mixed(seed) + part)} {}

    std::uint64_t next() {
        state_ += kGolden;
        return mixed(state_);
    }
    /// In [0, 1).
    double unit() { return static_cast<double>(next() >> 11U) * 0x1.0p-53; }
    double between(double low, double high) { return low + (high - low) * unit(); }
    /// Both ends included. @pre low <= high
    int whole(int low, int high) {
        assert(low <= high);
        return low + static_cast<int>(unit() * (static_cast<double>(high) - low + 1.0));
    }
    /// In [0, count). @pre count > 0
    std::size_t index(std::size_t count) {
        assert(count > 0);
        return static_cast<std::size_t>(unit() * static_cast<double>(count));
    }
    bool chance(double probability) { return unit() < probability; }
    /// Near a normal distribution of mean 0 and deviation 1: twelve uniforms, so no libm.
    double bell() {
        double sum = -6.0;
        for (int i = 0; i < 12; ++i) {
            sum += unit();
        }
        return sum;
    }
    template <typename T, std::size_t N>
    const T& pick(const std::array<T, N>& choices) {
        return choices[index(N)];
    }

private:
    static constexpr std::uint64_t kGolden = 0x9E3779B97F4A7C15ULL;
    static std::uint64_t mixed(std::uint64_t z) {
        z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31U);
    }
    std::uint64_t state_;
};

}  // namespace linewood::sample
