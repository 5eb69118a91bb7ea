#include "report/schemas.hpp"

namespace lanyard::report {

std::string output_schema(const std::string& name) {
    for (const SchemaText* row = schema_texts; row->name != nullptr; ++row)
        if (name == row->name) return row->text;
    return "";
}

}  // namespace lanyard::report
