#pragma once

#include <stdexcept>

namespace linewood {

/// The tool was called wrongly: arguments, a job file, a criteria profile or a file of wood tables that
/// cannot be meant. The message says where, what stood there and what could stand there. Exit code 2.
class JobError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

}  // namespace linewood
