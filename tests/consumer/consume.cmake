# Installs the built library to a prefix of its own, then configures, builds and runs the project there.
cmake_minimum_required(VERSION 3.25)

function(run)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE result OUTPUT_VARIABLE out ERROR_VARIABLE out)
  if(NOT result EQUAL 0)
    message(FATAL_ERROR "${ARGN}\nfailed with ${result}:\n${out}")
  endif()
  set(out "${out}" PARENT_SCOPE)
endfunction()

file(REMOVE_RECURSE ${WORK})
run(${CMAKE_COMMAND} --install ${BUILD} --prefix ${WORK}/prefix)
run(${CMAKE_COMMAND} -S ${SOURCE} -B ${WORK}/build -G Ninja -DCMAKE_CXX_COMPILER=${COMPILER}
    -DCMAKE_PREFIX_PATH=${WORK}/prefix -DWANTED=${VERSION})
run(${CMAKE_COMMAND} --build ${WORK}/build)
run(${WORK}/build/stranger)
message("${out}")
file(GLOB_RECURSE private ${WORK}/prefix/include/bothways/numeric/*)
if(private)
  message(FATAL_ERROR "private headers were installed: ${private}")
endif()
