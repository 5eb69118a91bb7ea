# Makes one C++ file of help texts: cmake -DOUT=FILE -DTEXTS="a.txt;b.txt" -P embed.cmake
# The topic is the file's name, in lower case and without its ending.
set(body "")
set(count 0)
foreach(file IN LISTS TEXTS)
  get_filename_component(topic ${file} NAME_WE)
  string(TOLOWER ${topic} topic)
  file(READ ${file} text)
  if(text MATCHES "\\)LANYARD\"")
    message(FATAL_ERROR "${file} holds the mark that ends a text")
  endif()
  string(APPEND body "    {\"${topic}\", R\"LANYARD(${text})LANYARD\"},\n")
  math(EXPR count "${count} + 1")
endforeach()
file(WRITE ${OUT} "// Made from the help texts; do not edit.
#include \"cli/help.hpp\"

namespace lanyard::cli {

const HelpText help_texts[] = {
${body}};
const std::size_t help_text_count = ${count};

}  // namespace lanyard::cli
")
