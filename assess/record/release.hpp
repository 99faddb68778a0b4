#pragma once

namespace linewood {

/// Empties a container and gives its memory back. (`c = {}` empties a vector and keeps its memory:
/// it assigns an empty list.)
template <typename Container>
void release(Container& container) {
    Container{}.swap(container);
}

}  // namespace linewood
