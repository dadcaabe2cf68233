# raceward_add_module(NAME SOURCES FILE...)
#
# A compiled module of rules, NAME.so, in C++20 or C11. It is linked with nothing of Raceward, and shows one symbol
# only: what it brings of our headers stays its own, whatever version the program that loads it was built with.
set(RACEWARD_MODULE_SYMBOLS ${CMAKE_CURRENT_LIST_DIR}/raceward-module.map)

function(raceward_add_module name)
  cmake_parse_arguments(PARSE_ARGV 1 module "" "" "SOURCES")
  if(NOT module_SOURCES OR module_UNPARSED_ARGUMENTS)
    message(FATAL_ERROR "write raceward_add_module(NAME SOURCES FILE...)")
  endif()
  add_library(${name} MODULE ${module_SOURCES})
  set_target_properties(${name} PROPERTIES PREFIX "" SUFFIX ".so" C_VISIBILITY_PRESET hidden
    CXX_VISIBILITY_PRESET hidden VISIBILITY_INLINES_HIDDEN ON)
  target_compile_features(${name} PRIVATE cxx_std_20)
  target_link_libraries(${name} PRIVATE raceward::module)
  if(NOT APPLE)
    target_link_options(${name} PRIVATE LINKER:--version-script=${RACEWARD_MODULE_SYMBOLS})
    if(NOT RACEWARD_SANITIZE AND NOT CMAKE_CXX_FLAGS MATCHES "-fsanitize") # whose run time the program brings
      target_link_options(${name} PRIVATE LINKER:--no-undefined)
    endif()
    set_target_properties(${name} PROPERTIES LINK_DEPENDS ${RACEWARD_MODULE_SYMBOLS})
  endif()
endfunction()
