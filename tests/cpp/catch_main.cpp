// The main of every test executable where Catch2 is version 2; compiled once, as it takes some ten seconds.
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
