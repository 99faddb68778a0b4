#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace linewood {

/// Which names a request may call this server by. A page from elsewhere can have its own name point here (DNS
/// rebinding) and would then read what is served as its own; its requests carry its name.
class HostCheck {
public:
    /// @param names beside `localhost`, 127.0.0.1 and [::1]: the address listened on, and what the user names
    explicit HostCheck(std::vector<std::string> names);

    /// @param host a Host header: a name or an address, with a port or without. Any port: there may be a tunnel.
    bool allows(std::string_view host) const;

private:
    std::vector<std::string> names_;
};

}  // namespace linewood
