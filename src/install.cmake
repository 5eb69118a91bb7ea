# What `cmake --install` leaves behind: the program, the headers, the libraries, and a package that
# find_package(lanyard) finds. Its target is lanyard::api.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

install(TARGETS lanyard RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES LICENSE README.md SAFETY.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY include/lanyard ${CMAKE_BINARY_DIR}/include/lanyard DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}
        FILES_MATCHING PATTERN "*.hpp")

get_property(layers GLOBAL PROPERTY LANYARD_LAYERS)
foreach(layer IN LISTS layers)
  string(REPLACE "lanyard_" "" name ${layer})
  set_target_properties(${layer} PROPERTIES EXPORT_NAME ${name})
endforeach()
install(TARGETS ${layers} EXPORT lanyard-targets ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/lanyard)
install(EXPORT lanyard-targets NAMESPACE lanyard:: DESTINATION ${package_folder})

file(WRITE ${CMAKE_BINARY_DIR}/lanyard-config.cmake [=[
include(CMakeFindDependencyMacro)
find_dependency(PkgConfig)
find_dependency(Threads)
find_dependency(fmt)
find_dependency(spdlog)
find_dependency(OpenSSL COMPONENTS Crypto)
pkg_check_modules(Z3 REQUIRED IMPORTED_TARGET z3)
include(${CMAKE_CURRENT_LIST_DIR}/lanyard-targets.cmake)
]=])
write_basic_package_version_file(${CMAKE_BINARY_DIR}/lanyard-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_BINARY_DIR}/lanyard-config.cmake ${CMAKE_BINARY_DIR}/lanyard-config-version.cmake
        DESTINATION ${package_folder})
