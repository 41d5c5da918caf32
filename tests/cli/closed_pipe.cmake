# A reader that goes away, as head does, ends the program at once, by SIGPIPE and without a word.
# -DPROGRAM=... -DLOG=... (a log of many more rows than a pipe holds)
foreach(command fixes speed)
  execute_process(COMMAND ${PROGRAM} ${command} ${LOG} COMMAND head -n 1
    OUTPUT_VARIABLE out ERROR_VARIABLE err RESULTS_VARIABLE codes)
  list(GET codes 0 code)
  if(NOT err STREQUAL "" OR NOT out MATCHES "mill-lane" OR code STREQUAL "0" OR code STREQUAL "1")
    message(FATAL_ERROR "${command} | head: exit '${codes}', output '${out}', error '${err}'")
  endif()
  execute_process(COMMAND sh -c "{ \"$0\" \"$1\" \"$2\"; echo $? >&2; } | head -n 1" ${PROGRAM} ${command} ${LOG}
    OUTPUT_QUIET ERROR_VARIABLE err)
  if(NOT err MATCHES "^(141|269)\n$")  # 128 + SIGPIPE; 256 + SIGPIPE in ksh
    message(FATAL_ERROR "${command} | head: the shell saw '${err}' instead of 141")
  endif()
endforeach()
# A file of --output is whole whatever becomes of the error stream.
execute_process(COMMAND sh -c "\"$0\" fixes \"$1\" --format csv -o \"$2\" 2>&1 | true" ${PROGRAM} ${LOG} ${WORK}
  RESULT_VARIABLE code)
file(STRINGS ${WORK} rows)
list(LENGTH rows count)
file(REMOVE ${WORK})
if(count LESS 5000)
  message(FATAL_ERROR "the file of --output has ${count} rows")
endif()
