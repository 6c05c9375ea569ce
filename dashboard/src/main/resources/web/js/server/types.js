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
 * @property {string|null} [until] when its shelf ends
 * @property {number|null} [untilT]
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
 * @property {Steadiness} steadiness
 * @property {Reading|null} gas Pa
 * @property {number|null} gasFlowKgPerHour
 * @property {number|null} gasFlowRelativeUncertainty
 * @property {{inputW: number|null, openingsW: number|null, restW: number|null}} ledger
 * @property {Burn|null} burn
 * @property {Conditions} [conditions]
 * @property {number|null} [flameOutProbability] that the flame is out, where it cannot be told for sure, 0 to 1
 * @property {Alarm[]} alarms
 * @property {Reading[]} latest
 *
 * @typedef {object} Steadiness whether the chamber holds its temperature
 * @property {'steady'|'moving'|'cannot-tell'} state
 * @property {number|null} slopeKPerMin over the window
 * @property {number|null} halfWidthKPerMin of its 95 % interval
 * @property {number|null} windowS
 * @property {number|null} bandKPerMin slopes within ± this are called steady
 * @property {string|null} since
 * @property {number|null} steadyForS while it is steady
 * @property {number|null} tellsInS when a verdict can be expected; null where waiting does not help
 * @property {string} wouldTell while there is no verdict
 *
 * @typedef {object} Conditions
 * @property {number|null} gasLeftMinutes until the sagging gas is down to `gasLeftToPa`
 * @property {number|null} gasLeftLowMinutes
 * @property {number|null} gasLeftHighMinutes null as well when it may never come to that
 * @property {number|null} gasLeftToPa
 * @property {number|null} predictedShellC
 * @property {number|null} predictedShellStandardUncertaintyK
 *
 * @typedef {'critical'|'calls'|'standing'|'flame'|'silent'|'never'|'none'} Attention the most urgent first
 *
 * @typedef {object} FleetRow one forge at a glance; what is not known is left out
 * @property {string} forge
 * @property {string} name
 * @property {Attention} attention
 * @property {Snapshot['phase']} [phase]
 * @property {Snapshot['flame']} [flame]
 * @property {Reading['level']} [chamberLevel]
 * @property {'rising'|'falling'|'level'|'steady'} [trend]
 * @property {number} [chamberC]
 * @property {number} [gasPa]
 * @property {number} [gasUsedKg]
 * @property {boolean} [burning] whether that gas is of a burn that goes on
 * @property {number} [silentSinceT] once its readings are too old, the time of the last, seconds since 1970
 * @property {{alarm: string, title: string, state: string, priority: Priority}} [alarm] the gravest
 * @property {number} [alarms] how many stand
 *
 * @typedef {object} FleetAnswer
 * @property {string} at to be named as `since` when asking again
 * @property {number} serverT
 * @property {boolean} all whether these are all rows, not only those that differ
 * @property {number} forges
 * @property {FleetRow[]} rows
 *
 * @typedef {object} AlarmStep one line of the journal
 * @property {string} time
 * @property {number} t seconds since 1970
 * @property {string} alarm
 * @property {string} title
 * @property {string} state that it went into
 * @property {Priority} priority
 * @property {number|null} value
 * @property {string} why
 *
 * @typedef {object} Output a way by which alarms leave the daemon
 * @property {string} name
 * @property {string} kind
 * @property {'idle'|'ok'|'waiting'|'failing'} state
 * @property {string} detail
 * @property {number} sent
 * @property {number} failed
 * @property {number} waiting
 * @property {number} dropped
 * @property {string|null} lastSentAt
 *
 * @typedef {object} DatabaseServer the database server behind the daemon's store
 * @property {boolean} reachable
 * @property {number} waiting
 * @property {number} waitingBytes
 * @property {number} behindS
 * @property {string} [awaySince]
 * @property {string} detail
 * @property {number} dropped
 * @property {number} refused
 * @property {string} lastRefusal
 *
 * @typedef {object} StoreState
 * @property {string} state
 * @property {number} backlog
 * @property {DatabaseServer} [server]
 *
 * @typedef {object} WhatIfKey
 * @property {string} key
 * @property {'temperature'|'altitude'|'length'|'share'|'pressure'} quantity
 * @property {string} unit
 * @property {number|null} value
 * @property {number|null} low
 * @property {number|null} high
 * @property {boolean} fromLog
 *
 * @typedef {object} WhatIfKeys what may be changed, as it is today
 * @property {'fitted'|'described'} basis
 * @property {string} currency
 * @property {number|null} gasPricePerKg
 * @property {WhatIfKey[]} keys
 * @property {string} fuel
 * @property {string[]} fuels
 * @property {{material: string, thicknessMm: number|null, described: string}[]} lining
 * @property {{name: string, serviceLimitC: number|null}[]} materials
 * @property {{name: string, widthMm: number|null, heightMm: number|null, plug: boolean}[]} openings
 * @property {string[]} doubts
 *
 * @typedef {object} WhatIfDifference
 * @property {string} figure
 * @property {number|null} by
 * @property {number|null} low95
 * @property {number|null} high95
 * @property {boolean} told
 *
 * @typedef {Record<string, any>} Predicted as "predict --json" writes it
 *
 * @typedef {object} WhatIfAnswer
 * @property {'fitted'|'described'} basis
 * @property {Predicted} today
 * @property {Predicted} changed
 * @property {WhatIfDifference[]} differences
 * @property {{name: string, today: number|null, changed: number|null, fate: 'kept'|'less-sure'|'partly-new'|'reset', why: string}[]} learnt
 * @property {string[]} set
 * @property {string[]} doubts
 *
 * @typedef {object} Forge
 * @property {string} id
 * @property {string} name
 * @property {number} targetC
 * @property {number} chamberHighC
 * @property {number} chamberLimitC
 * @property {number} noDataAfterS
 * @property {number} gasLimitPa
 * @property {number|null} ambientC
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
 * @typedef {object} Said what an entry of the log says: a note (`text`) or a setting (`value`)
 * @property {string} time
 * @property {number} t
 * @property {string} [text]
 * @property {string} [value]
 * @property {string} [unit]
 * @property {boolean} [withdrawn]
 *
 * @typedef {object} Revision
 * @property {string} at
 * @property {number} atT
 * @property {string} by
 * @property {Said} before
 * @property {Said} after
 *
 * @typedef {object} EntryOnly
 * @property {string} writtenFor what names it for good, together with its name
 * @property {string} name
 * @property {boolean} correctable
 * @property {boolean} corrected
 * @property {Revision[]} history
 *
 * @typedef {Said & EntryOnly} Entry
 *
 * @typedef {object} FittedParameter
 * @property {string} name
 * @property {string} unit `1` for a pure number
 * @property {number|null} value
 * @property {number|null} standardError
 * @property {number|null} low95
 * @property {number|null} high95
 * @property {'identified'|'prior'|'not-identifiable'} status
 * @property {number|null} [expected] as described
 * @property {number|null} [narrowedTo] uncertainty over that before the burn
 * @property {string} advice empty when the burn told it
 *
 * @typedef {object} LossCoefficient
 * @property {number} atC
 * @property {number|null} valueWPerK null when the burn cannot tell
 * @property {number|null} low95
 * @property {number|null} high95
 * @property {string} [advice]
 *
 * @typedef {object} LedgerStretch mean heat flows from `fromS` to `atS`, seconds since gas on
 * @property {number} fromS
 * @property {number} atS
 * @property {number} inputW
 * @property {number} flueW
 * @property {number} liningW
 * @property {number} openingsW
 * @property {number} stockW
 * @property {number} storedW negative when the lining gives heat back
 *
 * @typedef {object} Moment
 * @property {number} tS seconds since gas on
 * @property {number|null} measuredC
 * @property {number|null} fittedC
 * @property {number|null} predictedC
 * @property {number|null} low95C
 * @property {number|null} high95C
 *
 * @typedef {object} Fit
 * @property {string} forge
 * @property {string} start
 * @property {string} end
 * @property {number} samples
 * @property {number|null} effectiveSamples
 * @property {number|null} rmsResidualK
 * @property {number|null} [runsZ] far below 0 the model misses a trend
 * @property {boolean} converged
 * @property {string} [why] what stood in the way
 * @property {FittedParameter[]} parameters
 * @property {LossCoefficient} lossCoefficient
 * @property {number|null} timeConstantS
 * @property {LedgerStretch[]} ledger
 * @property {{timeToTargetS: number|null, timeToTargetLow95S?: number|null, timeToTargetHigh95S?: number|null,
 *   steadyC: number|null, steadyLow95C?: number|null, steadyHigh95C?: number|null}} predicted
 * @property {{timeToTargetS: number|null, steadyC: number|null}} measured
 * @property {number|null} [steadyGasPa] pressure that the steady temperatures belong to
 * @property {{chamberC: number, measuredS: number|null, predictedS: number|null}[]} [milestones]
 * @property {{parameter: string, steadyK: number|null, timeToTargetS: number|null, beyondDoubt: boolean}[]} [explanations]
 * @property {string} [verdict]
 * @property {Moment[]} [curve]
 * @property {string[]} [remarks]
 *
 * @typedef {object} BurnLoss the loss coefficient that one burn told
 * @property {string} burn its id
 * @property {string} start
 * @property {number} atC
 * @property {number} lossWPerK
 * @property {number} low95
 * @property {number} high95
 *
 * @typedef {object} Lining in order of time
 * @property {BurnLoss[]} losses
 * @property {{burns: number, earlier: {lossWPerK: number|null, low95: number|null, high95: number|null},
 *   lossUp: boolean, why: string}} trend
 *
 * @typedef {object} Figure with its 95 % interval; null for what is unknown, never or unbounded
 * @property {number|null} value
 * @property {number|null} low95
 * @property {number|null} high95
 *
 * @typedef {object} Settling where the chamber goes at the present pressure
 * @property {number|null} gaugePa
 * @property {number|null} steadyKPerMin
 * @property {boolean} already
 * @property {Figure} steadyC
 * @property {Figure} untilS
 * @property {Figure} soakedC
 * @property {{aheadS: number|null, chamberC: Figure}[]} curve
 *
 * @typedef {object} Hold a pressure that holds the target
 * @property {Figure} pressurePa
 * @property {Figure} kgPerHour
 * @property {number|null} costPerHour
 * @property {number|null} savedKgPerHour
 * @property {number|null} savedPerHour
 *
 * @typedef {object} Pause
 * @property {number|null} pauseS
 * @property {Figure} idleKg
 * @property {Figure} relightKg
 * @property {Figure} relightS
 * @property {Figure} savedKg
 * @property {number|null} saved
 * @property {number|null} breakEvenS
 * @property {boolean} neverWorth
 *
 * @typedef {object} Idle how to hold the target
 * @property {'heating'|'never'|'down'|'up'|'leave'|'limit-low'|'limit-high'} kind
 * @property {number} targetC
 * @property {number|null} advisedPa
 * @property {number|null} turnPa
 * @property {Figure} aboveTargetK
 * @property {Figure} toTargetS
 * @property {Hold} now
 * @property {Hold} advised what is to be set, within the limits of stable burning
 * @property {Hold} soaked
 * @property {{pressurePa: number|null, kgPerHour: number|null, costPerHour: number|null}} full
 * @property {Pause} pause
 * @property {{aheadS: number|null, pressurePa: Figure, kgPerHour: number|null}[]} curve
 *
 * @typedef {object} Outlook
 * @property {string} burn
 * @property {string} start
 * @property {boolean} hasFit
 * @property {number|null} atS
 * @property {'described'|'fitted'} basis
 * @property {number|null} chamberC
 * @property {number|null} gaugePa
 * @property {Settling|null} settling
 * @property {Idle|null} idle
 * @property {{code: string, words: string, silencing: boolean}[]} doubts
 *
 * @typedef {object} Score how earlier forecasts did
 * @property {number} count
 * @property {number|null} meanErrorK
 * @property {number|null} rmsErrorK
 * @property {number|null} shareInBand
 *
 * @typedef {object} OutlookAnswer
 * @property {string} forge
 * @property {string} currency
 * @property {Outlook|null} outlook
 * @property {Score} score
 *
 * @typedef {'timeToTarget'|'heatingRate'|'steadyTemperature'|'gasAtTarget'|'lossCoefficient'|'efficiency'|'mixture'|'chamberFlutter'|'gasFlutter'} FigureName
 * @typedef {'real'|'within-noise'|'cannot-tell'} TrialVerdict
 *
 * @typedef {object} TrialFigure
 * @property {FigureName} figure
 * @property {number|null} atC chamber temperature that it belongs to
 * @property {string} unit s, K/min, Cel, kg/h, W/K, 1, K or Pa
 * @property {number|null} value null when it cannot be told
 * @property {number|null} low95
 * @property {number|null} high95
 * @property {string} because why it cannot be told, or what the reader must know
 * @property {string} would what would tell it
 *
 * @typedef {TrialFigure & {better: 'less'|'more'|'neither', burns: number}} TrialFigureOfAll mean of the burns of a trial, at the conditions of all
 *
 * @typedef {{start: number, ambient: number, pressure: number}|null} TrialCorrections in the unit of the difference
 *
 * @typedef {object} TrialStretch
 * @property {string} burn
 * @property {string} start
 * @property {number} fromS
 * @property {number} toS
 * @property {number|null} startC
 * @property {number|null} ambientC
 * @property {number|null} gasPa
 * @property {TrialFigure[]} figures
 * @property {{figure: FigureName, atC: number|null, unit: string, value: number, by: TrialCorrections}[]} corrected
 * @property {number[][]} curve [s since gas on, °C]
 *
 * @typedef {object} Trial
 * @property {number} trial
 * @property {Record<string, string>} settings by name without setting-
 * @property {boolean} present whether these are in force now
 * @property {string[]} burns
 * @property {TrialFigureOfAll[]} figures
 * @property {TrialStretch[]} stretches
 *
 * @typedef {object} TrialDifference
 * @property {FigureName} figure
 * @property {number|null} atC
 * @property {string} unit
 * @property {string} differenceUnit % or K
 * @property {number|null} difference
 * @property {number|null} low95
 * @property {number|null} high95
 * @property {number|null} p
 * @property {number|null} pTogether
 * @property {TrialVerdict} verdict
 * @property {{source: string, value: number, degreesOfFreedom: number, modelAndSensors: number}|null} scatter
 * @property {{from: TrialCorrections, to: TrialCorrections}|null} correctedBy
 * @property {string} evidence
 * @property {string} would
 *
 * @typedef {object} TrialComparison
 * @property {number} from
 * @property {number} to
 * @property {{setting: string, from: string, to: string}[]} changed
 * @property {TrialVerdict} verdict
 * @property {string} sentence
 * @property {TrialDifference[]} figures
 *
 * @typedef {object} TrialProposal
 * @property {string} change
 * @property {Record<string, string>} settings
 * @property {boolean} repeat
 * @property {number} informationBits
 * @property {number} effectBits
 * @property {number} chanceBest
 * @property {number} expected %
 * @property {number} low95
 * @property {number} high95
 * @property {string} known
 * @property {string} why
 *
 * @typedef {object} Trials
 * @property {string} forge
 * @property {number} targetC
 * @property {{startC: number, ambientC: number, gasPa: number}|null} conditions
 * @property {'fitted'|'described'} correctedWith
 * @property {FigureName} first the figure that verdicts are about
 * @property {Trial[]} trials
 * @property {TrialComparison[]} comparisons
 * @property {{proposals: TrialProposal[], why: string}} next
 * @property {string[]} remarks
 */
export {};
