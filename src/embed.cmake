# Makes one C++ file of texts: cmake -DOUT=FILE -DTEXTS="a.txt;b.txt" -DHEADER=cli/help.hpp -DNAMESPACE=lanyard::cli
#   -DTYPE=HelpText -DARRAY=help_texts [-DBY_FOLDER=1] -P embed.cmake
# Each text has a name: that of its file, in lower case and without its ending, or that of its folder. The array ends
# with an entry of two null pointers.
set(body "")
foreach(file IN LISTS TEXTS)
  if(BY_FOLDER)
    get_filename_component(folder ${file} DIRECTORY)
    get_filename_component(name ${folder} NAME)
  else()
    get_filename_component(name ${file} NAME_WE)
    string(TOLOWER ${name} name)
  endif()
  file(READ ${file} text)
  if(text MATCHES "\\)LANYARD\"")
    message(FATAL_ERROR "${file} holds the mark that ends a text")
  endif()
  string(APPEND body "    {\"${name}\", R\"LANYARD(${text})LANYARD\"},\n")
endforeach()
file(WRITE ${OUT} "// Made from texts of the repository; do not edit.
#include \"${HEADER}\"

namespace ${NAMESPACE} {

const ${TYPE} ${ARRAY}[] = {
${body}    {nullptr, nullptr}};

}  // namespace ${NAMESPACE}
")
