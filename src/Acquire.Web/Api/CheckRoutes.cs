using Acquire.Analysis.Gauge;
using Acquire.Bench.Instruments;
using Acquire.Bench.Trust;
using Acquire.Formats.Csv;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Acquire.Web.Api;

/// <summary>
/// Calibration checks and repeatability tests whose readings were taken elsewhere; to read at the instrument, begin a session.
/// </summary>
internal static class CheckRoutes
{
    public static void MapChecks(this RouteGroupBuilder api)
    {
        var trust = api.MapGroup("").WithTags("trust");
        trust.MapGet("/checks", ListAsync).Reads("listChecks", "The calibration checks, in the order of reading.");
        trust.MapPost("/checks", CheckAsync)
            .Writes("enterCheck", "Judge and keep readings of a plaque that were taken elsewhere.", CheckBody.Example);
        trust.MapGet("/repeatability-tests", TestsAsync).Reads(
            "listRepeatabilityTests", "The repeatability tests, in the order of reading.");
        trust.MapPost("/repeatability-tests", TestAsync).Writes(
            "enterRepeatabilityTest",
            "Judge and keep readings that were taken elsewhere; what is read with their instrument from now on rests on them.",
            TestBody.Example);
    }

    private static async Task<PageDocument<CheckDocument>> ListAsync(
        [AsParameters] PageQuery page, CheckBook book, CancellationToken cancellationToken) =>
        Paging.Of(page, await book.ListAsync(cancellationToken), c => c.Check.Id.ToString("N"), CheckJson.Of);

    private static async Task<Created<CheckDocument>> CheckAsync(
        CheckBody body, Caller caller, CheckBook book, InstrumentBook instruments, CancellationToken cancellationToken)
    {
        var of = body.Instrument is { } name ? await instruments.OfFileAsync(new InstrumentChoice(name), Source, cancellationToken) : null;
        return TypedResults.Created(
            "/api/v1/checks",
            CheckJson.Of(await book.EnterAsync(body.Plaque, Read(body.Reads), of, caller.Name, cancellationToken)));
    }

    private static async Task<PageDocument<RepeatabilityTestDocument>> TestsAsync(
        [AsParameters] PageQuery page, RepeatabilityBook book, CancellationToken cancellationToken) => Paging.Of(
        page, await book.ListAsync(cancellationToken), t => t.Test.Id.ToString("N"), t => RepeatabilityJson.Of(t.Test, t.Report));

    private static async Task<Created<RepeatabilityTestDocument>> TestAsync(
        TestBody body, Caller caller, RepeatabilityEntry entry, InstrumentBook instruments, CancellationToken cancellationToken)
    {
        var of = await instruments.OfFileAsync(new InstrumentChoice(body.Instrument), Source, cancellationToken);
        var kept = await entry.EnterAsync(
            Read(body.Reads), of, body.Specification ?? RepeatabilitySpecification.Usual, caller.Name, cancellationToken);
        return TypedResults.Created("/api/v1/repeatability-tests", RepeatabilityJson.Of(kept.Test, kept.Report));
    }

    /// <summary>Where they came from, as the record names it.</summary>
    private const string Source = "request";

    private static ImmutableArray<ImportedRead> Read(IReadOnlyList<ReadBody?> reads) =>
        [.. Given.Items(reads, "reads").Select((r, i) => r.Of(new FilePlace("reads", i + 1)))];
}

/// <summary>Readings of a plaque.</summary>
internal sealed record CheckBody
{
    public static CheckBody Example { get; } = new()
    {
        Plaque = "plaque 1",
        Reads =
        [
            new ReadBody { Patch = "low", Red = 0.05m, Green = 0.06m, Blue = 0.08m },
            new ReadBody { Patch = "mid", Red = 0.72m, Green = 0.75m, Blue = 0.75m },
            new ReadBody { Patch = "high", Red = 1.91m, Green = 1.92m, Blue = 1.95m },
        ],
    };

    public required string Plaque { get; init; }

    /// <summary>The instrument they are of, by name; of any when not given.</summary>
    public string? Instrument { get; init; }

    public required IReadOnlyList<ReadBody?> Reads { get; init; }
}

/// <summary>Readings of patches that were read many times.</summary>
internal sealed record TestBody
{
    public static TestBody Example { get; } = new()
    {
        Instrument = "bench densitometer",
        Reads =
        [
            new ReadBody { Patch = "ld", Read = 1, Red = 0.46m, Green = 0.84m, Blue = 1.04m },
            new ReadBody { Patch = "ld", Read = 2, Red = 0.47m, Green = 0.84m, Blue = 1.05m },
            new ReadBody { Patch = "ld", Read = 3, Red = 0.46m, Green = 0.83m, Blue = 1.04m },
        ],
    };

    /// <summary>The instrument they are of, by name.</summary>
    public required string Instrument { get; init; }

    /// <summary>The largest standard deviation of one re-placed read that is accepted, in density; 0.01 when not given.</summary>
    public double? Specification { get; init; }

    public required IReadOnlyList<ReadBody?> Reads { get; init; }
}

/// <summary>One read of one patch, in density.</summary>
internal sealed record ReadBody
{
    public required string Patch { get; init; }

    /// <summary>Number of the read.</summary>
    public int? Read { get; init; }

    /// <summary>Which placement it is of, where a patch was read more than once without moving it.</summary>
    public string? Placement { get; init; }

    public decimal? Red { get; init; }
    public decimal? Green { get; init; }
    public decimal? Blue { get; init; }
    public decimal? Visual { get; init; }

    public ImportedRead Of(FilePlace place) => new(place, Patch, Read ?? place.Line, Placement, Values());

    private ImmutableSortedDictionary<Channel, decimal> Values() => new (Channel Channel, decimal? Value)[]
        {
            (Channel.Red, Red), (Channel.Green, Green), (Channel.Blue, Blue), (Channel.Visual, Visual),
        }
        .Where(v => v.Value is not null)
        .ToImmutableSortedDictionary(v => v.Channel, v => v.Value!.Value);
}
