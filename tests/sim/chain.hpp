// A whole chain with something of everything, for tests that play long runs.
#pragma once

namespace lanyard::test {

inline const char* chain = R"(
'scan': '10 ms',
'quantities': {
  'engine_speed': '0 .. 9000 rpm',
  'coolant': {'range': '-40 .. 150 degC', 'healthy': '10 .. 102 degC',
    'follows': [{'when': 'NOT wpump', 'changes': '0 .. 50 degC/s'},
                {'when': 'engine = stopped', 'changes': '-2 .. 20 degC/s', 'under': 'healthy'}]},
  'road': '0 .. 250 km/h'},
'inputs': {
  'key': 'maintained', 'start': 'momentary',
  'kill': {'switch': 'momentary', 'contact': 'normally closed', 'may_be_missed': true},
  'clt': {'senses': 'coolant', 'accuracy': '0.5 K', 'delay': '30 ms'},
  'oil': {'senses': 'oil_pressure', 'accuracy': '1 psi'},
  'turns': {'senses': 'engine_speed'},
  'speed': {'senses': 'road'},
  'back': {'reads_back': 'inj'}},
'tables': {'duty': {'rows': {'of': 'coolant', 'at': ['85 degC', '95 degC', '105 degC']},
  'columns': {'of': 'road speed', 'at': ['0 km/h', '80 km/h']},
  'cells': [['0 %', '0 %'], ['60 %', '20 %'], ['100 %', '100 %']]}},
'logic': {
  'low': 'turns > 500 rpm AND oil < 15 psi',
  'hot': 'band(clt, on > 110 degC, off < 105 degC)',
  'trip': {'is': 'SR(TON(low, 0.5 s), NOT key AND turns < 50 rpm)', 'retained': true},
  'dead': 'RS(NOT kill, NOT key)',
  'rising': 'rate(clt, 50 ms) > 20 degC/s',
  'tries': 'CTU(R_TRIG(start), NOT key, 2)',
  'prime': 'TP(key, 0.3 s)',
  'ok': 'key AND NOT dead AND NOT trip AND NOT hot'},
'outputs': {
  'inj': {'on': 'ok', 'relay': 'main'},
  'fpump': {'on': 'ok AND (prime OR turns > 50 rpm OR TOF(back, 0.2 s))'},
  'starter': 'key AND start AND NOT tries AND turns < 400 rpm',
  'wpump': 'key OR TOF(turns > 500 rpm, 0.5 s)',
  'fan': {'duty': 'table(duty, clt, speed)'},
  'lamp': '2 of (low, hot, rising) OR previous(trip)'},
'relays': {'main': {'pulls_in': '0 .. 20 ms', 'drops_out': '5 .. 15 ms', 'feeds': ['coils', 'injectors']}},
'supply': {'when': 'key AND battery_voltage > 7 V', 'boots_in': '0 .. 30 ms'},
'engine': {'fires_with': ['coils', 'injectors', 'fpump'], 'cranks_with': 'starter',
  'firing_time': '0.1 .. 0.4 s', 'coast_down': '0.1 .. 0.5 s', 'catches_above': '400 rpm', 'run_on': '0 .. 20 ms'},
'conditions': {
  'calm': {'base': 'healthy', 'except': {'coolant': '90 .. 120 degC'}},
  'keyed': 'key AND NOT TON(engine_speed > 1500 rpm AND oil_pressure < 20 psi, 0.1 s)'},
'claims': {
  'cut': {'whenever': 'engine_speed > 500 rpm AND oil_pressure < 14 psi', 'then': 'NOT inj', 'within': '0.6 s'},
  'one': {'always': 'NOT (starter AND engine_speed > 400 rpm)'},
  'runs': {'possible': 'engine = running'},
  'starts': {'procedure': ['set key', 'wait 0.5 s', 'hold start until engine = running, at most 2 s'],
    'ends_with': 'engine = running'}}
)";

}  // namespace lanyard::test
