#include <iostream>
#include <lanyard/lanyard.hpp>
#include <lanyard/tables.hpp>

int main() {
    std::cout << lanyard::api::version() << ", " << lanyard::api::unit_table().size() << " units\n";
    return lanyard::api::unit_table().empty() || lanyard::api::version() != LANYARD_VERSION ? 1 : 0;
}
