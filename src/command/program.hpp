#pragma once

namespace linewood {

/// Reads the arguments, runs the command they name, and turns every failure into a message and an
/// exit code: 0 done, 1 failed, 2 called wrongly.
int run_program(int argc, const char* const* argv);

}  // namespace linewood
