#pragma once

#include <cstdint>
#include <numeric>
#include <utility>
#include <vector>

namespace linewood {

/// Disjoint sets that can be joined (union by least member, so the name of a set does not depend on
/// the order of joins; paths halved).
class JoinedSets {
public:
    explicit JoinedSets(std::size_t count) : parent_(count) {
        std::iota(parent_.begin(), parent_.end(), 0U);
    }

    /// The least member of the set.
    std::uint32_t find(std::uint32_t i) {
        while (parent_[i] != i) {
            parent_[i] = parent_[parent_[i]];
            i = parent_[i];
        }
        return i;
    }
    /// False where they were together already.
    bool join(std::uint32_t a, std::uint32_t b) {
        a = find(a);
        b = find(b);
        if (a == b) {
            return false;
        }
        if (b < a) {
            std::swap(a, b);
        }
        parent_[b] = a;
        return true;
    }

private:
    std::vector<std::uint32_t> parent_;
};

}  // namespace linewood
