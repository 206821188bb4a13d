namespace Acquire.Domain.Records;

/// <summary>When, by whom and with what something was read.</summary>
/// <param name="At">When the reading began.</param>
/// <param name="By">The person.</param>
/// <param name="Instrument">The instrument; null when the values were entered by hand.</param>
public sealed record Provenance(DateTimeOffset At, string By, InstrumentInUse? Instrument);
