using Acquire.Analysis.Gauge;
using Acquire.Bench.Sessions;

namespace Acquire.Bench.Trust;

/// <summary>A calibration check with what it tells.</summary>
/// <param name="Check">The check.</param>
/// <param name="Report">What it tells.</param>
public sealed record JudgedCheck(CalibrationCheck Check, CalibrationReport Report);

/// <summary>A calibration check that was read at the instrument, or as much of it as was.</summary>
/// <param name="Session">The session it was read in.</param>
/// <param name="Judged">The check; null when the session did not complete.</param>
public sealed record CheckResult(SessionResult Session, JudgedCheck? Judged);
