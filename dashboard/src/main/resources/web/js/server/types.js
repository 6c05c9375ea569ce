/**
 * The shapes that the server sends, as openapi.json describes them. Only comments read this file.
 *
 * @typedef {object} Reading
 * @property {string} channel
 * @property {number|null} value in `unit`; null when bad and without a value
 * @property {string} unit
 * @property {number|null} standardUncertainty in `unit`, coverage factor 1
 * @property {string} quality
 * @property {'good'|'uncertain'|'bad'} level
 * @property {string} qualityInWords
 * @property {string} time
 * @property {number} t seconds since 1970
 *
 * @typedef {object} Burn
 * @property {string} id
 * @property {string} start
 * @property {string|null} end
 * @property {number|null} gasUsedKg
 * @property {number|null} gasCost
 * @property {number|null} peakC
 *
 * @typedef {'critical'|'high'|'medium'|'low'} Priority
 *
 * @typedef {object} Alarm
 * @property {string} alarm
 * @property {string} title
 * @property {string} state
 * @property {boolean} callsForAttention
 * @property {Priority} priority
 * @property {string|null} time
 * @property {number|null} t
 * @property {number|null} value
 * @property {string} why
 *
 * @typedef {object} Snapshot
 * @property {string} forge
 * @property {string|null} time
 * @property {number|null} t
 * @property {number} serverT
 * @property {'cold'|'lighting'|'heating'|'steady'|'idling'|'cooling'} phase
 * @property {'off'|'lighting'|'burning'|'out'|'unavailable'} flame
 * @property {Reading|null} chamber °C
 * @property {number|null} chamberRateKPerMin
 * @property {number|null} chamberRateStandardErrorKPerMin
 * @property {Reading|null} gas Pa
 * @property {number|null} gasFlowKgPerHour
 * @property {number|null} gasFlowRelativeUncertainty
 * @property {{inputW: number|null, openingsW: number|null, restW: number|null}} ledger
 * @property {Burn|null} burn
 * @property {Alarm[]} alarms
 * @property {Reading[]} latest
 *
 * @typedef {object} Forge
 * @property {string} id
 * @property {string} name
 * @property {number} targetC
 * @property {number} chamberHighC
 * @property {number} chamberLimitC
 * @property {number} noDataAfterS
 * @property {number} gasLimitPa
 * @property {string} currency
 *
 * @typedef {object} Series
 * @property {string} channel
 * @property {string} unit
 * @property {number} stepS
 * @property {number[]} t
 * @property {number[]} min
 * @property {number[]} mean
 * @property {number[]} max
 *
 * @typedef {object} Entry what was written into the log: a note (`text`) or a setting (`value`)
 * @property {string} time
 * @property {number} t
 * @property {string} name
 * @property {string} [text]
 * @property {string} [value]
 * @property {string} [unit]
 */
export {};
