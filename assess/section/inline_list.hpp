#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace linewood {

/// A list that keeps its first N items in place and moves to the heap only when it outgrows them.
/// For small plain values; items beyond size() are left unset, so that an empty list costs nothing.
template <typename T, std::size_t N>
class InlineList {
public:
    // The storage stays unset on purpose.
    InlineList() {}  // NOLINT(modernize-use-equals-default,cppcoreguidelines-pro-type-member-init)

    void push_back(const T& item) {
        if (size_ < N) {
            near_[size_] = item;
        } else {
            if (size_ == N) {
                far_.assign(near_.begin(), near_.end());
            }
            far_.push_back(item);
        }
        ++size_;
    }

    std::size_t size() const { return size_; }
    const T* begin() const { return size_ <= N ? near_.data() : far_.data(); }
    const T* end() const { return begin() + size_; }

private:
    std::array<T, N> near_;
    std::vector<T> far_;
    std::size_t size_ = 0;
};

}  // namespace linewood
