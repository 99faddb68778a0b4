#include "src/serve/host_check.hpp"

#include <algorithm>
#include <utility>

#include "geo/io/layer_schema.hpp"

namespace linewood {
namespace {

/// A host without its port; brackets stay on. Nothing where what follows is no port.
std::string_view without_port(std::string_view host) {
    const std::size_t begin = host.empty() || host.front() != '[' ? 0 : host.find(']');
    if (begin == std::string_view::npos) {
        return {};
    }
    const std::size_t colon = host.find(':', begin);
    if (colon == std::string_view::npos) {
        return host;
    }
    const std::string_view port = host.substr(colon + 1);
    return port.find_first_not_of("0123456789") == std::string_view::npos ? host.substr(0, colon)
                                                                          : std::string_view{};
}

}  // namespace

HostCheck::HostCheck(std::vector<std::string> names) : names_{std::move(names)} {
    for (std::string& name : names_) {
        if (name.find(':') != std::string::npos && name.front() != '[') {
            name.insert(0, "[").append("]");
        }
    }
    names_.insert(names_.end(), {"localhost", "127.0.0.1", "[::1]"});
}

bool HostCheck::allows(std::string_view host) const {
    const std::string_view name = without_port(host);
    return !name.empty() && std::any_of(names_.begin(), names_.end(), [&](const std::string& own) {
        return same_name(own, name);
    });
}

}  // namespace linewood
