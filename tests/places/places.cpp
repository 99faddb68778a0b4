#include "tests/places/places.hpp"

namespace linewood::testing {

std::string test_file(const std::string& name) { return LINEWOOD_TEST_DIR "/" + name; }

std::string sample_file(const std::string& name) { return LINEWOOD_SAMPLE_DIR "/" + name; }

std::string linewood_program() { return LINEWOOD_PROGRAM; }

std::string make_sample_program() { return LINEWOOD_MAKE_SAMPLE; }

}  // namespace linewood::testing
