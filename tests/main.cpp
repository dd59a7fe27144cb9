#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include "tests/known_leaks.hpp"

#include <doctest/doctest.h>
