// The layers: each folder of src/ is a namespace, and each sees the names of those that it may use, as DEVELOPERS.md
// lists them. Only `cli` is not here: it sees the public interface alone.
// Tested by: tests/cli/layers_test.py
#pragma once

namespace lanyard {

namespace base {}
namespace lang {
using namespace base;
}
namespace model {
using namespace lang;
}
namespace claims {
using namespace model;
}
namespace circuit {
using namespace claims;
}
namespace sim {
using namespace claims;
using namespace circuit;
}  // namespace sim
namespace encode {
using namespace claims;
using namespace circuit;
}  // namespace encode
namespace certify {
using namespace encode;
using namespace sim;
}  // namespace certify
namespace prove {
using namespace certify;
}
namespace explain {
using namespace prove;
}
namespace fault {
using namespace prove;
}
namespace card {
using namespace prove;
}
namespace report {
using namespace claims;
using namespace circuit;
using namespace sim;
}  // namespace report
namespace page {
using namespace report;
}
namespace api {
using namespace explain;
using namespace fault;
using namespace card;
using namespace page;
}  // namespace api

}  // namespace lanyard
