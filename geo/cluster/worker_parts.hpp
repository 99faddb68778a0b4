#pragma once

#include <cstddef>
#include <functional>

namespace linewood {

/// Told how much of the work is done, from 0 to 1; false to stop. Never called by two threads at
/// once, but by any of them.
using KeepGoing = std::function<bool(double done)>;

/// Does `work(worker, part)` for every part in [0, parts), on so many threads; a worker does one
/// part at a time. What is thrown stops the others and is thrown again here.
/// @return false where `keep_going` (which may be empty) said no; then some parts are not done.
bool do_parts(std::size_t parts,
              unsigned threads,
              const KeepGoing& keep_going,
              const std::function<void(unsigned worker, std::size_t part)>& work);

}  // namespace linewood
