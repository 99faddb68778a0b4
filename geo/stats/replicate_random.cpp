#include "geo/stats/replicate_random.hpp"

#include <cassert>

namespace linewood {
namespace {

constexpr std::uint64_t kStep = 0x9E3779B97F4A7C15U;

std::uint64_t mixed(std::uint64_t z) {
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
    return z ^ (z >> 31U);
}

}  // namespace

ReplicateRandom::ReplicateRandom(std::uint64_t seed, std::uint64_t replicate)
    : state_{mixed(mixed(seed + kStep) + replicate * 0xD1342543DE82EF95U)} {}

std::uint64_t ReplicateRandom::next() {
    state_ += kStep;
    return mixed(state_);
}

std::uint32_t ReplicateRandom::below(std::uint32_t bound) {
    assert(bound > 0);
    std::uint64_t product = (next() >> 32U) * bound;
    if (static_cast<std::uint32_t>(product) < bound) {
        const std::uint32_t uneven = (0U - bound) % bound;
        while (static_cast<std::uint32_t>(product) < uneven) {
            product = (next() >> 32U) * bound;
        }
    }
    return static_cast<std::uint32_t>(product >> 32U);
}

}  // namespace linewood
