#pragma once

#include <vector>

#include "assess/section/pieces.hpp"

namespace linewood::polar {

/// The cavities that part a section: those whose boundary touches two pieces or more over some
/// length; if there is none, those that touch any piece. Indices as Stretch::cavity, rising.
std::vector<int> parting_cavities(const std::vector<Stretch>& stretches,
                                  const Bands& bands,
                                  const Pieces& pieces);

}  // namespace linewood::polar
