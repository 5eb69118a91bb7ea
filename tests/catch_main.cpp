// Catch's main program, compiled once for every test executable.
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
