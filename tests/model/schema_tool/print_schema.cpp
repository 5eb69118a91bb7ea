// Prints the schema of model files, or of rule packs ("rules"), for schema_test.py.
#include <cstdio>
#include <string>

#include "model/read.hpp"

int main(int argc, char** argv) {
    const bool rules = argc > 1 && std::string(argv[1]) == "rules";
    std::fputs((rules ? lanyard::model::pack_schema() : lanyard::model::model_schema()).c_str(), stdout);
    return 0;
}
