#include "src/command/program.hpp"

int main(int argc, char** argv) { return linewood::run_program(argc, argv); }
