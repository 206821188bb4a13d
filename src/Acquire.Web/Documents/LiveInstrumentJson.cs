using System.Text.Json.Serialization;
using Acquire.Bench.Service;
using Acquire.Bench.Sessions;

namespace Acquire.Web.Documents;

/// <summary>What is said of an instrument; an empty text takes away what was said before.</summary>
/// <param name="Port">The address of its port.</param>
/// <param name="Profile">The name of its device profile.</param>
/// <param name="Baud">Bits per second, where it is set otherwise than its profile says; 0 for the profile's.</param>
/// <param name="DisplayStep">One unit of the last decimal that it shows, density; 0 for not known.</param>
/// <param name="Filters">Its filters or its status.</param>
/// <param name="Reason">Why it is said.</param>
internal record InstrumentChangeDocument(
    string? Port, string? Profile, int? Baud, double? DisplayStep, string? Filters, string? SerialNumber, string? Notes, string? Reason);

/// <summary>An instrument that is to be added; the rest as for a change.</summary>
internal sealed record InstrumentAddDocument(
    [property: JsonRequired] string Name,
    string? Port,
    string? Profile,
    int? Baud,
    double? DisplayStep,
    string? Filters,
    string? SerialNumber,
    string? Notes,
    string? Reason)
{
    internal InstrumentChangeDocument Said => new(Port, Profile, Baud, DisplayStep, Filters, SerialNumber, Notes, Reason);
}

/// <param name="Back">Whether it is taken back into use.</param>
internal sealed record InstrumentRetireDocument(bool? Back, string? Reason);

/// <summary>An instrument, and what is known of it at this moment. Names of properties are a contract; new ones may be added.</summary>
/// <param name="Live">The state of its link; null where the service does not read it.</param>
/// <param name="History">Its revisions, the oldest first; null in lists.</param>
internal sealed record InstrumentDocument(
    string Name,
    string? Port,
    string Profile,
    int? Baud,
    double? DisplayStep,
    string? Filters,
    string? SerialNumber,
    string? Notes,
    DateTimeOffset? RetiredAt,
    LiveInstrumentDocument? Live,
    IReadOnlyList<InstrumentRevisionDocument>? History)
{
    /// <summary>What looks wrong about it; null for nothing.</summary>
    public string? Warning { get; init; }
}

/// <param name="Link"><c>connected</c>, <c>silent</c>, <c>notOpen</c>, <c>gone</c> or <c>reconnecting</c>.</param>
/// <param name="Message">The same in words.</param>
/// <param name="LastHeard">When something last came; null while nothing has since the service was started.</param>
/// <param name="BeingRead">Whether a session reads with it.</param>
/// <param name="LooseReadings">How many readings came while no session ran and were not taken into one.</param>
internal sealed record LiveInstrumentDocument(
    LinkCondition Link, string Message, DateTimeOffset Since, DateTimeOffset? LastHeard, bool BeingRead, int LooseReadings);

internal sealed record InstrumentRevisionDocument(
    int Number, DateTimeOffset At, string By, string Reason, IReadOnlyList<InstrumentFieldDocument> Changes);

internal sealed record InstrumentFieldDocument(string What, string Before, string After);

/// <summary>A reading that came while no session ran.</summary>
/// <param name="TakenBy">The session it was taken into; null when it was not.</param>
internal sealed record LooseDocument(
    string Id,
    DateTimeOffset At,
    decimal? Red,
    decimal? Green,
    decimal? Blue,
    decimal? Visual,
    IReadOnlyList<string> Lines,
    Guid? TakenBy);

internal static class LiveInstrumentJson
{
    public static InstrumentDocument Of(Instrument instrument, InstrumentStation? station, IReadOnlyList<Instrument>? history) => new(
        instrument.Name,
        instrument.Port,
        instrument.Profile,
        instrument.Baud,
        instrument.DisplayStep,
        instrument.Filters,
        instrument.SerialNumber,
        instrument.Notes,
        instrument.RetiredAt,
        station is null ? null : Of(station),
        history is null ? null : [.. history.Select((revision, i) => Of(revision, i == 0 ? null : history[i - 1]))]);

    public static LooseDocument Of(LooseReading loose)
    {
        var densities = loose.Reading.Densities;
        return new LooseDocument(
            loose.Id.ToString(),
            loose.Reading.At,
            densities.Red?.Value,
            densities.Green?.Value,
            densities.Blue?.Value,
            densities.Visual?.Value,
            [.. loose.Reading.Lines.Select(l => l.Text)],
            loose.TakenBy);
    }

    private static LiveInstrumentDocument Of(InstrumentStation station)
    {
        var state = station.State;
        return new LiveInstrumentDocument(
            state.Link.Condition,
            state.Link.Message,
            state.Since,
            state.LastHeard,
            state.ReadBy,
            station.Loose.Count(r => r.TakenBy is null));
    }

    private static InstrumentRevisionDocument Of(Instrument revision, Instrument? before) => new(
        revision.Revision.Number,
        revision.Revision.At,
        revision.Revision.By,
        revision.Revision.Reason,
        before is null ? [] : [.. revision.ChangesSince(before).Select(c => new InstrumentFieldDocument(c.What, c.Before, c.After))]);
}
