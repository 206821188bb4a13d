using Acquire.Bench.Trust;

namespace Acquire.Rendering.Trust;

/// <summary>The reference strip as a check standard, for people and for programs.</summary>
internal static class RecheckReport
{
    public static void Write(IAnsiConsole console, RecheckReview review, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, RecheckJson.Of(review));
            return;
        }

        if (review.BeginsWith is { } instrument)
        {
            console.Line(
                $"Kept: the first reading of this reference strip with {instrument}. Another instrument made the aims, and each is "
                + "held against itself only; from the next recheck on it shows whether this one has moved.");
            return;
        }

        console.Line(Verdict(review));
        var table = Tables.New("patch", "channel", "first", "now", "moved", "lower", "upper", "occasions", "");
        foreach (var series in review.Series)
        {
            var newest = series.Chart.Points[^1];
            table.Row(
                series.Patch,
                series.Channel.Word(),
                Numbers.Density(series.Chart.Points[0].Occasion.Mean),
                Numbers.Density(newest.Occasion.Mean),
                Numbers.Deviation(RecheckReview.Moved(series)),
                Numbers.Density(series.Chart.Lower),
                Numbers.Density(series.Chart.Upper),
                series.Chart.Points.Length.ToString(CultureInfo.InvariantCulture),
                string.Join(", ", Words(newest.MeanOutside, newest.ScatterOutside)));
        }

        console.WriteTable(table);
        var occasions = review.Series.Max(s => s.Chart.Points.Length);
        if (occasions < 4)
        {
            console.Line($"  {occasions} occasions make wide limits; they narrow with each time the strip is read again, up to "
                + $"{RecheckReview.Baseline}.");
        }

        foreach (var series in review.Series)
        {
            foreach (var point in series.Chart.Points.SkipLast(1).Where(p => p.MeanOutside || p.ScatterOutside))
            {
                console.Line($"  {point.Occasion.Label}: {series.Patch} {series.Channel.Word()} {Numbers.Density(point.Occasion.Mean)}, "
                    + string.Join(", ", Words(point.MeanOutside, point.ScatterOutside)));
            }
        }
    }

    private static string Verdict(RecheckReview review) => (review.Holds, review.Outside) switch
    {
        (true, 0) => "The instrument reads the reference strip as it did: every mean lies within its limits.",
        (true, var n) => $"The instrument reads the reference strip as it did: {n} of {review.Series.Length} means outside their "
            + "limits, which chance explains.",
        (false, var n) => $"MOVED: {n} of {review.Series.Length} means lie outside their limits, more than chance explains. Clean "
            + "aperture and strip, check zero and slope "
            + "with the plaque, and read it again. If the instrument was repaired or replaced, read the reference anew: "
                + "acquire lot reference",
    };

    private static IEnumerable<string> Words(bool mean, bool scatter)
    {
        if (mean)
        {
            yield return "outside";
        }

        if (scatter)
        {
            yield return "reads scatter";
        }
    }
}
