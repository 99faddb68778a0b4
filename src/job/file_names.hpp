#pragma once

#include <set>
#include <string>
#include <string_view>

namespace linewood {

/// Names of files made from ids that may hold anything.
///
/// A name has letters, digits, `.`, `_` and `-` only, at most 80 of them and a mark; it is no hidden file,
/// no device and not `index`. Where something of the id had to go, or another id has that name without
/// case already, a mark made of the id follows, so that ids apart have names apart on every file system.
class FileNames {
public:
    /// A name without ending; never the same twice.
    std::string name_for(std::string_view id);

private:
    bool take(const std::string& name);

    std::set<std::string> taken_;  ///< in lower case
};

}  // namespace linewood
