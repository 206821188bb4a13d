using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;

namespace Acquire.Rendering.Trust;

/// <summary>A study of several persons or instruments for people: the verdict first, then what the scatter is made of.</summary>
internal static class CrossedText
{
    public static void Write(IAnsiConsole console, CrossedStudy study)
    {
        console.Line(Design(study));
        console.Line(Verdict(study));
        console.Lines(study.Channels.Select(Categories));
        console.WriteTable(Tables.Of(Parts(study)));
        console.WriteTable(Tables.Of(Variance(study)));
        if (!study.Channels.All(c => c.Limits.IsEmpty))
        {
            console.WriteTable(Tables.Of(Limits(study)));
        }

        foreach (var note in study.Notes)
        {
            console.Paragraph("  ", note);
        }
    }

    public static string Design(CrossedStudy study) => "Gauge study of "
        + string.Join(" × ", study.Data.Factors.Select(f => $"{study.Data.LevelsOf(f)} {Many(f, study.Data.LevelsOf(f))}"))
        + $", {study.Data.Reads.Length / study.Data.Factors.Aggregate(1, (n, f) => n * study.Data.LevelsOf(f))} reads each.";

    public static string Verdict(CrossedStudy study)
    {
        var failed = study.Channels.Where(c => !c.Specification.Passes).Select(c => c.Channel.Word()).ToList();
        var sigma = string.Join('/', study.Channels.Select(c => c.Specification.Sigma.ToString("0.000##", CultureInfo.InvariantCulture))
            .Distinct());
        return failed.Count == 0
            ? $"PASSED: one person's reads on one instrument scatter no more than the specification of {sigma} allows."
            : $"FAILED in {string.Join(", ", failed)}: one person's reads on one instrument scatter more than the specification of {sigma} "
                + "allows. Clean the aperture and the film, let the lamp warm up, and read again.";
    }

    public static string Categories(CrossedChannel channel) => channel.DistinctCategories switch
    {
        null => $"{channel.Channel.Word()}: the gauge does not scatter at all; nothing can be said of how many patches it tells apart.",
        < 2 => $"{channel.Channel.Word()}: the gauge cannot tell these patches apart{Between(channel)}.",
        var n => $"{channel.Channel.Word()}: the gauge tells {n} densities apart in the range of these patches{Between(channel)}.",
    };

    private static string Between(CrossedChannel channel) => channel.Categories is var (low, high)
        ? string.Create(CultureInfo.InvariantCulture, $" (95 % interval {low} to {high})") : "";

    public static Rows Parts(CrossedStudy study)
    {
        var tolerance = study.Channels.Any(c => c.Parts.Any(p => p.ShareOfTolerance is not null));
        return new(
            ["channel", "part", "σ", "95 % interval", "of variation", "95 % interval", .. tolerance ? ["6 σ of tolerance"] : (string[])[]],
            study.Channels.SelectMany(c => c.Parts.Select(p => (string[])
            [
                c.Channel.Word(), p.Name, Numbers.Four(p.Sigma), $"{Numbers.Four(p.Low)} … {Numbers.Four(p.High)}",
                p.ShareOfVariation is { } share ? Tenth(share) : "",
                p.ShareInterval is var (least, most) ? $"{Tenth(least)} … {Tenth(most)}" : "",
                .. tolerance ? [p.ShareOfTolerance is { } used ? Tenth(used) : ""] : (string[])[],
            ])));
    }

    /// <summary>The analysis of variance with all interactions and, where some were pooled, without those.</summary>
    public static Rows Variance(CrossedStudy study) => new(
        ["channel", "source", "SS", "ν", "MS", "F", "P"],
        study.Channels.SelectMany(c => Rows(study, c, c.Full, "")
            .Concat(c.Used.Effects.Length == c.Full.Effects.Length ? [] : Rows(study, c, c.Used, ", pooled"))));

    public static Rows Limits(CrossedStudy study) => new(
        ["parameter", "channel", "limit", "6 σ of its width"],
        study.Channels.SelectMany(c => c.Limits).Select(l => (string[])
        [
            l.Parameter.Name, l.Channel.Word(), l.IsControl ? "control" : "action", Tenth(l.Share),
        ]));

    private static IEnumerable<string[]> Rows(CrossedStudy study, CrossedChannel channel, CrossedVariance variance, string suffix) =>
    [
        .. variance.Effects.Select(e => Row(channel, CrossedChannel.Name(study.Data, e) + suffix, e.Row, e.F, e.P)),
        Row(channel, "reads" + suffix, variance.Residual, null, null),
    ];

    private static string[] Row(CrossedChannel channel, string source, SquaresRow row, double? f, double? p) =>
    [
        channel.Channel.Word(), source, Six(row.SumOfSquares), Numbers.Whole(row.DegreesOfFreedom), Six(row.MeanSquare), Six(f),
        p?.ToString("0.0000", CultureInfo.InvariantCulture) ?? "",
    ];

    private static string Six(double? value) => value?.ToString("G6", CultureInfo.InvariantCulture) ?? "";

    private static string Tenth(double share) => share.ToString("0.0 %", CultureInfo.InvariantCulture);

    private static string Many(string factor, int count) => count == 1 ? factor
        : factor == "patch" ? "patches" : factor.Replace("person", "persons", StringComparison.Ordinal)
            .Replace("instrument", factor == "instrument" ? "instruments" : "instrument", StringComparison.Ordinal);
}

/// <summary>The same as one page.</summary>
internal static class CrossedHtml
{
    public static string Of(CrossedStudy study, TimeProvider time)
    {
        var title = $"Gauge study, {Numbers.Moment(time.GetUtcNow(), time)}";
        var page = new HtmlWriter();
        page.Raw($"<h1>{HtmlWriter.Escape(title)}</h1>");
        page.Paragraph(CrossedText.Verdict(study), $"verdict {(study.Passes ? "good" : "stop")}");
        page.Paragraph(CrossedText.Design(study));
        page.List(study.Channels.Select(CrossedText.Categories));
        page.Table("What the scatter is made of", CrossedText.Parts(study));
        page.Table("Analysis of variance", CrossedText.Variance(study));
        if (!study.Channels.All(c => c.Limits.IsEmpty))
        {
            page.Table("Limits of the process", CrossedText.Limits(study));
        }

        page.Heading("Notes");
        page.List(study.Notes);
        return page.Page(title);
    }
}

/// <summary>
/// The same for other programs. Names of properties are a contract; new ones may be added. All in the unit of the readings.
/// </summary>
internal static class CrossedJson
{
    public static object Of(CrossedStudy study) => new
    {
        Passed = study.Passes,
        study.Data.Factors,
        Levels = study.Data.Factors.ToDictionary(f => f, study.Data.LevelsOf),
        Reads = study.Data.Reads.Length,
        Channels = study.Channels.ToDictionary(c => c.Channel.Word(), c => Channel(study, c)),
        study.Notes,
    };

    private static object Channel(CrossedStudy study, CrossedChannel channel) => new
    {
        Parts = channel.Parts.Select(p => new
        {
            p.Name,
            Kind = p.Kind.ToString().ToLowerInvariant(),
            S = p.Sigma,
            SLow = p.Low,
            SHigh = p.High,
            p.Variance,
            p.ShareOfVariation,
            ShareOfVariationLow = p.ShareInterval?.Low,
            ShareOfVariationHigh = p.ShareInterval?.High,
            p.ShareOfTolerance,
        }),
        channel.DistinctCategories,
        DistinctCategoriesLow = channel.Categories?.Low,
        DistinctCategoriesHigh = channel.Categories?.High,
        WithInteraction = Variance(study, channel.Full),
        WithoutInteraction = Variance(study, channel.Additive),
        Used = Variance(study, channel.Used),
        Specification = channel.Specification.Sigma,
        channel.Specification.ChiSquare,
        channel.Specification.Critical,
        channel.Specification.P,
        Passed = channel.Specification.Passes,
        Resolution = channel.Step,
        Limits = channel.Limits.Select(l => new
        {
            l.Parameter.Key,
            l.Parameter.Name,
            Kind = l.IsControl ? "control" : "action",
            l.Limit.Lower,
            l.Limit.Upper,
            S = l.Sigma,
            l.Share,
        }),
    };

    private static object Variance(CrossedStudy study, CrossedVariance variance) => new
    {
        Effects = variance.Effects.Select(e => new
        {
            Name = CrossedChannel.Name(study.Data, e),
            e.Row.SumOfSquares,
            e.Row.DegreesOfFreedom,
            e.Row.MeanSquare,
            e.F,
            e.P,
            Component = e.Component.Value,
        }),
        Residual = new { variance.Residual.SumOfSquares, variance.Residual.DegreesOfFreedom, variance.Residual.MeanSquare },
    };
}
