#pragma once

// Catch2 is version 2 on Debian 12 and version 3 on Ubuntu 24.04. Tests include this file instead of either and use
// what both know: TEST_CASE, SECTION, CHECK, REQUIRE, CHECK_THROWS_AS, INFO, CAPTURE, GENERATE and `Approx`.
#if ARMWRIGHT_CATCH2 >= 3
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif
