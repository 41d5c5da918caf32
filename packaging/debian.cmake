# Called by cpack before it packs each tree: what Debian has otherwise than an ordinary installation. Man pages are
# compressed, licence and changes have names of their own.
find_program(GZIP gzip REQUIRED)

function(compress file)
  execute_process(COMMAND ${GZIP} -9 -n -f ${file} COMMAND_ERROR_IS_FATAL ANY)
endfunction()

function(finish root package)
  set(docs ${root}/usr/share/doc/${package})
  file(GLOB pages ${root}/usr/share/man/man1/*.1)
  foreach(page IN LISTS pages)
    compress(${page})
  endforeach()
  file(REMOVE ${root}/usr/share/doc/bothways/LICENSE)
  file(MAKE_DIRECTORY ${docs})
  configure_file(${CPACK_BOTHWAYS_PACKAGING}/changelog.in ${docs}/changelog.Debian @ONLY)
  compress(${docs}/changelog.Debian)
  file(WRITE ${docs}/copyright "${CPACK_BOTHWAYS_COPYRIGHT}")
  file(GLOB_RECURSE files LIST_DIRECTORIES true ${root}/usr/share/doc/*)
  foreach(file IN LISTS files)
    if(IS_DIRECTORY ${file})
      file(CHMOD ${file} PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
    else()
      file(CHMOD ${file} PERMISSIONS OWNER_READ OWNER_WRITE GROUP_READ WORLD_READ)
    endif()
  endforeach()
endfunction()

file(READ ${CPACK_BOTHWAYS_PACKAGING}/../LICENSE licence)
string(REGEX REPLACE "^MIT License\n\n[^\n]*\n\n" "" licence "${licence}")
string(REPLACE "\n\n" "\n.\n" licence "${licence}")
string(REGEX REPLACE "\n([^\n])" "\n \\1" licence "\n${licence}")
set(CPACK_BOTHWAYS_COPYRIGHT "Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: bothways
Comment: The charts of its pages are drawn by Vega and D3 of Debian's node-vega,
 whose licences (BSD-3-Clause, ISC) stand whole in each page, before them.

Files: *
Copyright: 2026 The bothways maintainers
License: Expat

License: Expat${licence}")
finish(${CPACK_TEMPORARY_DIRECTORY}/program bothways)
finish(${CPACK_TEMPORARY_DIRECTORY}/development libbothways-dev)
