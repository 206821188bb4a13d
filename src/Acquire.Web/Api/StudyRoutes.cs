using System.ComponentModel;
using Acquire.Analysis.Control;
using Acquire.Bench.Books;
using Acquire.Bench.Daily;
using Acquire.Bench.Life;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>The day, the life of solutions, and the statistics on a plain series.</summary>
internal static class StudyRoutes
{
    public static void MapStudies(this RouteGroupBuilder api)
    {
        var studies = api.MapGroup("").WithTags("studies");
        studies.MapGet("/daily", DailyAsync)
            .Reads("tellToday", "May I process film today? What the newest strips tell, and what to do first.");
        studies.MapGet("/life", LifeAsync)
            .Reads(
                "tellLife",
                "How long a kind of solution lasts here, by the strips run in it. Gloves; the product's safety data sheet rules.");
        studies.MapPost("/series", Series)
            .Writes(
                "studySeries",
                "Run the statistics that strips are judged with on a plain series of numbers; nothing is kept.",
                SeriesBody.Example);
    }

    private static async Task<DailyDocument> DailyAsync(DailyDesk desk, CancellationToken cancellationToken) =>
        DailyJson.Of(await desk.AskAsync(cancellationToken));

    private static async Task<LifeDocument> LifeAsync(
        [AsParameters] LifeQuery asked, LifeDesk desk, TimeProvider time, CancellationToken cancellationToken) =>
        LifeJson.Of(await desk.AskAsync(asked.Asked(time), cancellationToken));

    private static SeriesDocument Series(SeriesBody body) => SeriesJson.Of(SeriesStudy.Of(
        [.. Given.Items(body.Values, "values").Select(v => new SeriesPoint(v.Value, v.Group, v.X))], body.Design()));
}

/// <summary>What is asked of the life of a kind of solution.</summary>
internal sealed record LifeQuery
{
    [FromQuery(Name = "lot")]
    [Description("Only strips of this lot, by its code number.")]
    public string? Lot { get; init; }

    [FromQuery(Name = "since")]
    [Description("Only strips read on this day or later, such as 2026-09-14.")]
    public string? Since { get; init; }

    [FromQuery(Name = "until")]
    [Description("Only strips read on this day or before.")]
    public string? Until { get; init; }

    [FromQuery(Name = "last")]
    [Description("Only the last so many.")]
    public int? Last { get; init; }

    [FromQuery(Name = "line")]
    [Description("Only strips of this process line.")]
    public string? Line { get; init; }

    [FromQuery(Name = "process")]
    [Description("Only strips of this process, by key or name; the newest strip's when not given.")]
    public string? Process { get; init; }

    [FromQuery(Name = "solutionKind")]
    [Description("The kind of solution; the developer when not given.")]
    public string? SolutionKind { get; init; }

    [FromQuery(Name = "storage")]
    [Description("The way of keeping: container, full or part full, gas, with commas between.")]
    public string? Storage { get; init; }

    [FromQuery(Name = "bottle")]
    [Description("Where this bottle stands; all in use when not given.")]
    public string? Bottle { get; init; }

    [FromQuery(Name = "compare")]
    [Description("Compare only these: method, line or storage; all that differ when not given.")]
    public string? Compare { get; init; }

    [FromQuery(Name = "see")]
    [Description("The difference of density that a comparison is to show; half of the action limit when not given.")]
    public double? See { get; init; }

    [FromQuery(Name = "without")]
    [Description("Leave this strip out, as something else had happened to it; may be repeated.")]
    public string[]? Without { get; init; }

    /// <exception cref="BenchException">A word, a day or a number is none.</exception>
    public LifeAsked Asked(TimeProvider time) => new(
        new StripsQuery { Lot = Lot, Since = Since, Until = Until, Last = Last, Line = Line, Process = Process }.Filter(time))
    {
        Kind = SolutionKind is { } word ? KindWords.Of<SolutionKind>(word) : null,
        Storage = Storage,
        Bottle = Bottle,
        Compare = Compare,
        See = See,
        Without = [.. Without ?? []],
    };
}

/// <summary>A plain series, and what it is charted against; what is not given is as usual.</summary>
internal sealed record SeriesBody
{
    public static SeriesBody Example { get; } = new()
    {
        Values = [.. new[] { 0.01, 0.00, 0.02, -0.01, 0.01, 0.03, 0.02, 0.04 }.Select(v => new SeriesValueBody { Value = v })],
        Baseline = 5,
    };

    public required IReadOnlyList<SeriesValueBody?> Values { get; init; }

    /// <summary>Centre of the moving average and of the sums; the mean when not given.</summary>
    public double? Target { get; init; }

    /// <summary>Standard deviation of one value; mean moving range / d2 when not given.</summary>
    public double? Sigma { get; init; }

    /// <summary>How many of the first values make the natural limits; all when not given.</summary>
    public int? Baseline { get; init; }

    /// <summary>Weight of the newest value in the moving average.</summary>
    public double? Lambda { get; init; }

    /// <summary>Half-width of its limits in standard deviations.</summary>
    public double? Width { get; init; }

    /// <summary>Allowance k of the sums, in the unit of the values; half a sigma when not given.</summary>
    public double? Allowance { get; init; }

    /// <summary>Decision interval h of the sums, in the unit of the values; five sigmas when not given.</summary>
    public double? Decision { get; init; }

    /// <summary>Predict the value at these x by the line of value on x.</summary>
    public IReadOnlyList<double>? At { get; init; }

    /// <summary>Find the x at which the line reaches these values.</summary>
    public IReadOnlyList<double>? Reach { get; init; }

    /// <summary>How many readings a predicted or reached value is the mean of.</summary>
    public int? Readings { get; init; }

    /// <summary>Confidence of the intervals of predictions.</summary>
    public double? Confidence { get; init; }

    public SeriesDesign Design()
    {
        var usual = new SeriesDesign();
        return usual with
        {
            Target = Target,
            Sigma = Sigma,
            Baseline = Baseline,
            Lambda = Lambda ?? usual.Lambda,
            Width = Width ?? usual.Width,
            Allowance = Allowance,
            Decision = Decision,
            At = [.. At ?? []],
            Reach = [.. Reach ?? []],
            Readings = Readings ?? usual.Readings,
            Confidence = Confidence ?? usual.Confidence,
        };
    }
}

/// <summary>One value of a series.</summary>
internal sealed record SeriesValueBody
{
    public required double Value { get; init; }
    public string? Group { get; init; }
    public double? X { get; init; }
}
