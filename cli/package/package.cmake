# For programs that use the libraries: find_package(Fettlefund) gives Fettlefund::budgets and Fettlefund::lib, with the
# headers that their doors include and no others. And the Debian packages: cpack -G DEB in the build folder.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

set(FETTLEFUND_DOORS budgets/solve.hpp budgets/risk/risk.hpp budgets/what_if/what_if.hpp budgets/what_if/frontier.hpp
    lib/build/read/read.hpp lib/check/check.hpp lib/outcome/plan.hpp lib/progress/replan.hpp lib/report/text/text.hpp
    lib/report/json/json.hpp lib/report/files/atomic_file.hpp lib/sheets/book/workbook.hpp)

# Adds to `found` the header and all of the project's own headers that it includes.
function(fettlefund_closure header found)
  if(header IN_LIST ${found})
    return()
  endif()
  list(APPEND ${found} ${header})
  file(STRINGS ${CMAKE_SOURCE_DIR}/${header} lines REGEX "^#include \"(budgets|lib)/")
  foreach(line ${lines})
    string(REGEX REPLACE "^#include \"([^\"]*)\".*" "\\1" next "${line}")
    fettlefund_closure(${next} ${found})
  endforeach()
  set(${found} ${${found}} PARENT_SCOPE)
endfunction()

set(headers "")
foreach(door ${FETTLEFUND_DOORS})
  fettlefund_closure(${door} headers)
endforeach()
foreach(header ${headers})
  get_filename_component(folder ${header} DIRECTORY)
  install(FILES ${CMAKE_SOURCE_DIR}/${header} DESTINATION include/fettlefund/${folder} COMPONENT dev)
endforeach()

install(TARGETS fettlefund_house budgets lib EXPORT FettlefundTargets ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT dev)
install(EXPORT FettlefundTargets NAMESPACE Fettlefund:: DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/Fettlefund COMPONENT dev)
configure_package_config_file(${CMAKE_SOURCE_DIR}/cli/package/FettlefundConfig.cmake.in ${CMAKE_BINARY_DIR}/FettlefundConfig.cmake
                              INSTALL_DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/Fettlefund)
write_basic_package_version_file(${CMAKE_BINARY_DIR}/FettlefundConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_BINARY_DIR}/FettlefundConfig.cmake ${CMAKE_BINARY_DIR}/FettlefundConfigVersion.cmake
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/Fettlefund COMPONENT dev)
install(FILES ${CMAKE_SOURCE_DIR}/example-build/library/plan_in_code.cpp ${CMAKE_SOURCE_DIR}/example-build/library/CMakeLists.txt
        DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/fettlefund-dev/examples COMPONENT dev)

# Debian's own files: copyright, and a changelog whose time is the version's, so that equal sources give equal bytes.
configure_file(${CMAKE_SOURCE_DIR}/cli/package/changelog.in ${CMAKE_BINARY_DIR}/package/changelog @ONLY)
configure_file(${CMAKE_SOURCE_DIR}/cli/package/copyright ${CMAKE_BINARY_DIR}/package/copyright COPYONLY)
execute_process(COMMAND gzip -9nc ${CMAKE_BINARY_DIR}/package/changelog OUTPUT_FILE ${CMAKE_BINARY_DIR}/package/changelog.gz)
foreach(package fettlefund fettlefund-dev)
  string(REPLACE "fettlefund-dev" "dev" component ${package})
  string(REPLACE "fettlefund" "runtime" component ${component})
  install(FILES ${CMAKE_BINARY_DIR}/package/changelog.gz ${CMAKE_BINARY_DIR}/package/copyright
          DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${package} COMPONENT ${component})
endforeach()

set(CPACK_GENERATOR DEB)
set(CPACK_COMPONENTS_ALL runtime dev)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ
    WORLD_EXECUTE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_MAINTAINER "The Fettlefund developers <fettlefund@example.org>")
set(CPACK_DEBIAN_RUNTIME_PACKAGE_NAME fettlefund)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_RUNTIME_DESCRIPTION "plans a staged custom build within a budget
 Describe the build in a file: the money and its paydays, the bench
 time, the jobs wanted, what has to come off to reach them, the parts
 and who sells them. Fettlefund schedules what to buy and do at each
 payday with a proof of how good the plan is, and writes a workbook
 that two people share.")
set(CPACK_DEBIAN_DEV_PACKAGE_NAME fettlefund-dev)
set(CPACK_DEBIAN_DEV_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEV_PACKAGE_DEPENDS
    "libxlsxwriter-dev, libzip-dev, zlib1g-dev, libpugixml-dev, libutf8proc-dev, nlohmann-json3-dev, libfmt-dev, libboost-dev, pkgconf | pkg-config")
set(CPACK_DEBIAN_DEV_DESCRIPTION "plans staged custom builds: static libraries and headers
 The staging solver and the reader, planner and reports of Fettlefund
 for other programs: find_package(Fettlefund).")
include(CPack)
