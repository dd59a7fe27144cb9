# Initial cache for a build under AddressSanitizer and UndefinedBehaviorSanitizer: cmake -C .ci/sanitize.cmake -B build/sanitized
set(CMAKE_CXX_COMPILER clang++ CACHE STRING "")  # a third less to compile than g++ takes, and a second opinion
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(CMAKE_CXX_FLAGS_RELWITHDEBINFO "-O1 -g1" CACHE STRING "")
set(FETTLEFUND_SANITIZE ON CACHE BOOL "")
set(CMAKE_EXE_LINKER_FLAGS -fuse-ld=lld CACHE STRING "")  # a fifth of the time that the usual linker takes
