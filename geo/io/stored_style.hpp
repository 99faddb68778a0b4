#pragma once

#include <string>

namespace linewood {

/// A way to draw a layer that is kept beside it, for desktop clients to open it with.
struct StoredStyle {
    std::string name;  ///< unique among those of its layer, at most 30 characters
    std::string qml;   ///< as desktop clients keep styles
    std::string sld;   ///< the same for other readers
    std::string description;
    bool is_default = false;  ///< at most one of a layer
};

}  // namespace linewood
