#pragma once

#include <string>

namespace linewood::testing {

/// A file of this folder: `published/girths_8000_psi.txt`.
std::string test_file(const std::string& name);
/// A file of the committed sample: `sample.gpkg`.
std::string sample_file(const std::string& name);
/// The programs under test.
std::string linewood_program();
std::string make_sample_program();

}  // namespace linewood::testing
