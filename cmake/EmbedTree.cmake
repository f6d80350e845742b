# embed_tree(TARGET DIR): builds every file below DIR into TARGET, as built_in_assets() of
# src/web/built_in_assets.h gives them: content, a gzip copy where that is smaller, and a weak ETag
# of the content. Made when the files change, by this same file as a script (cmake -P).
if(NOT CMAKE_SCRIPT_MODE_FILE)
  set(EMBED_TREE_SCRIPT "${CMAKE_CURRENT_LIST_FILE}")
  function(embed_tree target dir)
    file(GLOB_RECURSE files CONFIGURE_DEPENDS "${dir}/*")
    set(base "${CMAKE_CURRENT_BINARY_DIR}/assets_${target}")
    add_custom_command(
      OUTPUT "${base}.S" "${base}.cpp"
      COMMAND ${CMAKE_COMMAND} -DDIR=${dir} -DBASE=${base} -P "${EMBED_TREE_SCRIPT}"
      DEPENDS ${files} "${EMBED_TREE_SCRIPT}"
      VERBATIM)
    target_sources(${target} PRIVATE "${base}.S" "${base}.cpp")
  endfunction()
  return()
endif()

file(GLOB_RECURSE files RELATIVE "${DIR}" "${DIR}/*")
list(SORT files)
file(REMOVE_RECURSE "${BASE}.gz")
file(MAKE_DIRECTORY "${BASE}.gz")
set(asm ".section .rodata\n")
set(declared "")
set(rows "")
set(count 0)
foreach(name IN LISTS files)
  set(file "${DIR}/${name}")
  file(SHA256 "${file}" hash)
  string(SUBSTRING "${hash}" 0 32 tag)
  set(parts content "${file}")
  file(SIZE "${file}" size)
  set(packed "${BASE}.gz/${count}.gz")
  # -n: no name and time, so that equal files give equal bytes.
  execute_process(COMMAND gzip -9 -n -c "${file}" OUTPUT_FILE "${packed}" COMMAND_ERROR_IS_FATAL ANY)
  file(SIZE "${packed}" packed_size)
  if(packed_size LESS size)
    list(APPEND parts gzipped "${packed}")
  endif()
  set(gzipped "{}")
  list(LENGTH parts last)
  math(EXPR last "${last} - 1")
  foreach(i RANGE 0 ${last} 2)
    math(EXPR j "${i} + 1")
    list(GET parts ${i} part)
    list(GET parts ${j} path)
    set(begin "ws_asset_${count}_${part}_begin")
    set(end "ws_asset_${count}_${part}_end")
    string(APPEND asm ".global ${begin}\n.global ${end}\n.balign 16\n${begin}:\n"
                      ".incbin \"${path}\"\n${end}:\n.byte 0\n")
    string(APPEND declared "extern \"C\" const char ${begin}[], ${end}[];\n")
    set(${part} "{${begin}, static_cast<std::size_t>(${end} - ${begin})}")
  endforeach()
  string(APPEND rows "    {\"/${name}\", ${content}, ${gzipped}, \"W/\\\"${tag}\\\"\"},\n")
  math(EXPR count "${count} + 1")
endforeach()
string(APPEND asm ".section .note.GNU-stack,\"\",%progbits\n")
file(WRITE "${BASE}.S" "${asm}")
file(WRITE "${BASE}.cpp"
     "#include \"web/built_in_assets.h\"\n\n#include <cstddef>\n\n${declared}"
     "namespace warmside::web {\n\nstd::span<const Asset> built_in_assets() {\n"
     "  static const Asset assets[] = {\n${rows}  };\n  return assets;\n}\n\n}  // namespace warmside::web\n")
