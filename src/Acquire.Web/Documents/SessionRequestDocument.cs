using Acquire.Bench.Readings;
using Acquire.Bench.Service;
using Acquire.Bench.Trust;

namespace Acquire.Web.Documents;

/// <summary>
/// A session that is to begin: what for, and with what. Which fields count follows from the purpose; what is left out is settled as the
/// command line settles it.
/// </summary>
internal sealed record SessionRequestDocument
{
    /// <summary>What is read: a strip, a lot's reference, that reference again, a plaque, or some patches many times.</summary>
    public required SessionPurpose Purpose { get; init; }

    /// <summary>The instrument's name; the only one when not given.</summary>
    public string? Instrument { get; init; }

    /// <summary>How many reads each patch is to have, 1 to 50; 3 when not given, 10 for a repeatability test.</summary>
    public int? ReadsPerPatch { get; init; }

    /// <summary>The person who reads; whoever asks when not given.</summary>
    public string? By { get; init; }

    /// <summary>
    /// For how many seconds a step may be taken back when all is read, 0 to 3600. When not given nobody is at a keyboard: the record is
    /// made at once, and an open question stays with it.
    /// </summary>
    public double? KeepAfter { get; init; }

    /// <summary>Loose readings that are to be the first of it, by their ids.</summary>
    public IReadOnlyList<string>? Loose { get; init; }

    /// <summary>The program that asks, for the note that tells others who reads the session.</summary>
    public string? Program { get; init; }

    /// <summary>Code number of the lot; of a strip that confirms another or is read again the other's when not given.</summary>
    public string? Lot { get; init; }

    /// <summary>The process line the strip ran in; the one used last when not given.</summary>
    public string? Line { get; init; }

    /// <summary>The bottle of developer it ran in; the one used last when not given.</summary>
    public string? Bottle { get; init; }

    public string? Note { get; init; }

    /// <summary>How the strip was handled.</summary>
    public string? Handling { get; init; }

    /// <summary>The strip that this one is to confirm.</summary>
    public Guid? Confirms { get; init; }

    /// <summary>The earlier record of this very strip.</summary>
    public Guid? RereadOf { get; init; }

    /// <summary>What was done to it since: re-bleach, re-fix, re-wash, drying, none.</summary>
    public string? Treatment { get; init; }

    /// <summary>The strip of another lot that was processed together with this one.</summary>
    public Guid? PairedWith { get; init; }

    /// <summary>When the strip ran in the developer; about now when not given.</summary>
    public DateTimeOffset? RanAt { get; init; }

    /// <summary>Whether the lot has no reference and the strip is one of those that make it.</summary>
    public bool? ForBaseline { get; init; }

    /// <summary>What happens where no calibration check is in force: warn, mark or block; what was settled when not given.</summary>
    public CheckRequirement? RequireCheck { get; init; }

    /// <summary>Why a reference is read.</summary>
    public string? Reason { get; init; }

    /// <summary>The plaque of a calibration check.</summary>
    public string? Plaque { get; init; }

    /// <summary>The patches of a repeatability test, any words; one patch when not given.</summary>
    public IReadOnlyList<string>? Patches { get; init; }

    /// <summary>How many reads of a repeatability test follow each other without moving the patch; 1 when not given.</summary>
    public int? ReadsPerPlacement { get; init; }

    /// <summary>The largest standard deviation that passes a repeatability test, density.</summary>
    public double? Specification { get; init; }
}

/// <summary>What the document says, as the desk is asked; and the other way round, for a command line that asks a service.</summary>
internal static class SessionRequestJson
{
    private const int MostLoose = 500;

    /// <exception cref="BenchException">What is said cannot be.</exception>
    public static LiveTerms Terms(SessionRequestDocument asked, string by) => new(
        Text(asked.Instrument, "instrument"),
        asked.ReadsPerPatch ?? (asked.Purpose == SessionPurpose.Repeatability ? 10 : 3),
        Text(asked.By, "by") ?? by)
    {
        KeepAfter = asked.KeepAfter switch
        {
            null => null,
            >= 0 and <= 3600 and var seconds => TimeSpan.FromSeconds(seconds),
            _ => throw new BenchException("keepAfter takes 0 to 3600 seconds."),
        },
        Loose = [.. Loose(asked)],
        Program = Text(asked.Program, "program") ?? "another program over HTTP",
    };

    /// <exception cref="BenchException">What is said cannot be.</exception>
    public static StripRequest Strip(SessionRequestDocument asked) => new()
    {
        Lot = Text(asked.Lot, "lot"),
        Tags = new StripTags
        {
            Line = Text(asked.Line, "line"),
            Bottle = Text(asked.Bottle, "bottle"),
            Note = Text(asked.Note, "note"),
            Handling = Text(asked.Handling, "handling"),
            Confirms = asked.Confirms,
            Reread = Reread.Join(asked.RereadOf, asked.Treatment is { } word
                ? Treatments.Parse(word) ?? throw new BenchException(
                    $"'{word}' is no treatment; there are {Numbers.Names([.. Enum.GetValues<Treatment>().Select(t => t.Word())])}.")
                : null),
            PairedWith = asked.PairedWith,
        },
        RanAt = asked.RanAt,
        ForBaseline = asked.ForBaseline ?? false,
        RequireCheck = asked.RequireCheck,
    };

    public static SessionRequestDocument Of(StripRequest request) => new()
    {
        Purpose = SessionPurpose.Strip,
        Lot = request.Lot,
        Line = request.Tags.Line,
        Bottle = request.Tags.Bottle,
        Note = request.Tags.Note,
        Handling = request.Tags.Handling,
        Confirms = request.Tags.Confirms,
        RereadOf = request.Tags.Reread?.Of,
        Treatment = request.Tags.Reread?.After.Word(),
        PairedWith = request.Tags.PairedWith,
        RanAt = request.RanAt,
        ForBaseline = request.ForBaseline,
        RequireCheck = request.RequireCheck,
    };

    public static ReferenceRequest Reference(SessionRequestDocument asked) =>
        new(Needed(asked.Lot, "lot"), Text(asked.Reason, "reason") ?? "read");

    public static SessionRequestDocument Of(ReferenceRequest request) =>
        new() { Purpose = SessionPurpose.Reference, Lot = request.Lot, Reason = request.Reason };

    public static RecheckRequest Recheck(SessionRequestDocument asked) => new(Needed(asked.Lot, "lot"));

    public static SessionRequestDocument Of(RecheckRequest request) => new() { Purpose = SessionPurpose.Recheck, Lot = request.Lot };

    public static CheckRequest Check(SessionRequestDocument asked) => new(Needed(asked.Plaque, "plaque"));

    public static SessionRequestDocument Of(CheckRequest request) => new() { Purpose = SessionPurpose.Check, Plaque = request.Plaque };

    public static RepeatabilityRequest Repeatability(SessionRequestDocument asked) => new(
        new StripLayout(
            "repeatability test",
            [.. (asked.Patches is { Count: > 0 } patches ? patches : ["patch"]).Select(p => new Patch(p, p))]),
        asked.ReadsPerPlacement ?? 1,
        asked.Specification
            ?? throw new BenchException("Say the specification: the largest standard deviation that passes, such as 0.01."));

    public static SessionRequestDocument Of(RepeatabilityRequest request) => new()
    {
        Purpose = SessionPurpose.Repeatability,
        Patches = [.. request.Patches.Patches.Select(p => p.Key)],
        ReadsPerPlacement = request.ReadsPerPlacement,
        Specification = request.Specification,
    };

    private static IEnumerable<LooseId> Loose(SessionRequestDocument asked)
    {
        if (asked.Loose is { Count: > MostLoose })
        {
            throw new BenchException($"No session takes more than {MostLoose} loose readings.");
        }

        return (asked.Loose ?? []).Select(
            id => LooseId.Parse(id ?? "")
                ?? throw new BenchException($"'{id}' is no id of a loose reading. See: GET /api/v1/instruments/NAME/loose"));
    }

    private static string Needed(string? text, string name) =>
        Text(text, name) ?? throw new BenchException($"Say the {name}: \"{name}\" is missing.");

    /// <summary>A text of one line; a blank one counts as not said.</summary>
    private static string? Text(string? text, string name) => text?.Trim() switch
    {
        null or "" => null,
        { Length: > 1000 } => throw new BenchException($"{name} has more than 1000 letters."),
        var said when said.Any(char.IsControl) => throw new BenchException($"{name} is one line of text without control characters."),
        var said => said,
    };
}
