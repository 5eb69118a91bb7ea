// Prints the schema of model files, for schema_test.py.
#include <cstdio>

#include "model/read.hpp"

int main() {
    std::fputs(lanyard::model_schema().c_str(), stdout);
    return 0;
}
