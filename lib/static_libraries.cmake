# BOTHWAYS_STATIC_LIBRARIES: what the program calls becomes part of it, but libc and libm; its start was mostly the dynamic
# loader's work (docs/decisions/0056-libraries-inside-the-program.md). Where one library is not there in this form all stay
# shared, for a shared one in C++ would bring a second standard library into the program.
if(BOTHWAYS_STATIC_LIBRARIES)
  set(missing "")
  foreach(name absl_time_zone boost_program_options GeographicLib lzma sqlite3 xml2 z)
    find_library(BOTHWAYS_STATIC_${name} NAMES lib${name}.a)
    mark_as_advanced(BOTHWAYS_STATIC_${name})
    if(NOT BOTHWAYS_STATIC_${name})
      list(APPEND missing lib${name}.a)
    endif()
  endforeach()
  foreach(name libstdc++.a libgcc.a)
    execute_process(COMMAND ${CMAKE_CXX_COMPILER} -print-file-name=${name} OUTPUT_VARIABLE path
                    OUTPUT_STRIP_TRAILING_WHITESPACE)
    if(NOT EXISTS "${path}")
      list(APPEND missing ${name})
    endif()
  endforeach()
  find_path(BOTHWAYS_ICU_HEADERS unicode/ucnv.h)
  find_path(LIBXML2_INCLUDE_DIR libxml/parser.h PATH_SUFFIXES libxml2)
  mark_as_advanced(BOTHWAYS_ICU_HEADERS LIBXML2_INCLUDE_DIR)
  if(NOT BOTHWAYS_ICU_HEADERS)
    list(APPEND missing "header of ICU")
  endif()
  if(NOT missing)
    try_compile(BOTHWAYS_XML_LINKS ${PROJECT_BINARY_DIR}/no_icu
      SOURCES ${PROJECT_SOURCE_DIR}/lib/no_icu.cpp ${PROJECT_SOURCE_DIR}/lib/no_icu_try.cpp
      CMAKE_FLAGS "-DINCLUDE_DIRECTORIES=${BOTHWAYS_ICU_HEADERS};${LIBXML2_INCLUDE_DIR}"
      LINK_LIBRARIES ${BOTHWAYS_STATIC_xml2} ${BOTHWAYS_STATIC_z} ${BOTHWAYS_STATIC_lzma} m
      CXX_STANDARD 20)
    if(NOT BOTHWAYS_XML_LINKS)
      list(APPEND missing "libxml2.a that lib/no_icu.cpp fits")
    endif()
  endif()
  if(missing)
    list(JOIN missing ", no " missing)
    message(NOTICE "BOTHWAYS_STATIC_LIBRARIES: there is no ${missing}. All libraries stay shared; the program works the same "
      "but takes twice as long to start.")
    set(BOTHWAYS_STATIC_LIBRARIES OFF)
  endif()
endif()

# What was found in the other form before is looked for again.
if(NOT "${BOTHWAYS_STATIC_LIBRARIES}" STREQUAL "${BOTHWAYS_FOUND_STATIC_LIBRARIES}")
  get_cmake_property(abseil CACHE_VARIABLES)
  list(FILTER abseil INCLUDE REGEX "^BOTHWAYS_ABSEIL_")
  foreach(found ${abseil} GeographicLib_LIBRARIES LIBXML2_LIBRARY SQLite3_LIBRARY ZLIB_LIBRARY_RELEASE)
    unset(${found} CACHE)
  endforeach()
  set(BOTHWAYS_FOUND_STATIC_LIBRARIES "${BOTHWAYS_STATIC_LIBRARIES}" CACHE INTERNAL "The form of the libraries that were found")
endif()

if(BOTHWAYS_STATIC_LIBRARIES)
  set(CMAKE_FIND_LIBRARY_SUFFIXES .a)
  set(Boost_USE_STATIC_LIBS ON)
  find_package(ZLIB REQUIRED GLOBAL)
  find_package(LibXml2 REQUIRED GLOBAL)
  add_library(bothways_no_icu STATIC lib/no_icu.cpp)
  target_link_libraries(bothways_no_icu PRIVATE bothways_flags)
  target_include_directories(bothways_no_icu SYSTEM PRIVATE ${BOTHWAYS_ICU_HEADERS})
  target_link_libraries(LibXml2::LibXml2 INTERFACE bothways_no_icu ZLIB::ZLIB ${BOTHWAYS_STATIC_lzma} m)
endif()
