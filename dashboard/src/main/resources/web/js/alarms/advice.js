/** What to do first, alarm by alarm: short sentences that a person with gloves on can follow. */

/** @type {Record<string, string[]>} */
const STEPS = {
  'flame-out': ['Close the gas at the cylinder.', 'Let the chamber air out.', 'Only then relight.'],
  'no-ignition': ['Close the gas at the cylinder.', 'Let the chamber air out.', 'Only then try again.'],
  'gas-left-on': ['Close the gas at the cylinder.', 'Air the room; no sparks, no switches.', 'Only then look for the cause.'],
  'chamber-over-limit': ['Turn the gas down or close it.', 'Let the lining cool before you go on.'],
  'chamber-high': ['Turn the gas down.'],
  'shell-high': ['Turn the gas down.', 'Look for a crack or a thin place in the lining.'],
  'first-fire-rate': ['Turn the gas down: a new lining must dry slowly.'],
  'gas-pressure-high': ['Turn the regulator down.', 'If it does not follow, close the cylinder.'],
  'gas-falling': ['The cylinder is cold or nearly empty: have another ready.'],
  'mixture-flutter': ['Listen to the flame; look at choke and jet.'],
  'chamber-sensor-bad': ['Watch the flame yourself.', 'Check the thermocouple and its screws.'],
  'pressure-sensor-bad': ['Watch the flame yourself.', 'Check the transducer and its plug.'],
  'no-data': ['Watch the flame yourself.', 'The instrument is blind: check the sensor board’s cable, supply and network.'],
  'watch-lost': ['Watch the flame yourself.', 'Nobody else does. Restart the daemon to have the forge watched again.'],
  'wire-over-temperature': ['Plan to replace the thermocouple.'],
  'lining-loss-up': ['Look for a crack or a sag in the lining when it is cold.'],
  'store-failing': ['Readings may not be kept: look at the disk of the daemon’s machine.'],
  'disk-nearly-full': ['Make room on the disk of the daemon’s machine.'],
  'database-unreachable': ['All is kept on the daemon’s disk: bring the database back, or see why it refuses lines.'],
  'clock-stepped': ['Check the clock of the daemon’s machine.'],
  'page-daemon-gone': [
    'Watch the flame yourself.',
    'Nobody else does. Is the daemon’s machine on, and this screen in its network?',
  ],
  'page-offline': ['Watch the flame yourself.', 'This screen cannot: bring this device back into the network of the daemon’s machine.'],
  'page-daemon-hangs': ['Watch the flame yourself.', 'Nobody else does. If it goes on hanging, restart the daemon.'],
  'page-readings-stopped': ['Watch the flame yourself.', 'The instrument is blind: check the sensor board and the daemon.'],
};

/**
 * @param {string} alarm
 * @returns {string[]}
 */
export const stepsFor = (alarm) => STEPS[alarm] ?? ['Look at the forge.'];
