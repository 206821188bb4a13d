using Acquire.Analysis.Control;
using Acquire.Analysis.Statistics;

namespace Acquire.Rendering.Series;

/// <summary>Estimates of sigma, and what a line predicts, for people: a line each, in six significant digits.</summary>
internal static class LineText
{
    public static IEnumerable<string> Of(SeriesStudy study)
    {
        (string Name, double? Sigma)[] sigmas =
        [
            ("s / c4", study.Sigmas.Overall), ("mean moving range / d2", study.Sigmas.MovingRange),
            ("pooled s of the groups / c4", study.Sigmas.Pooled), ("mean range of the groups / d2", study.Sigmas.Ranges),
            ("mean s of the groups / c4", study.Sigmas.Deviations),
        ];
        if (sigmas.Where(s => s.Sigma is not null).ToList() is { Count: > 0 } known)
        {
            yield return "Sigma of one value: " + string.Join(", ", known.Select(s => $"{Six(s.Sigma!.Value)} by {s.Name}"));
        }

        if (study.Fitted?.Covariance is { } covariance)
        {
            yield return $"Covariance of intercept and slope: {Six(covariance)}";
        }

        foreach (var p in study.Predictions)
        {
            yield return $"At x = {Six(p.X)}: {Six(p.Value)}, mean {Between(p.Value, p.Factor * p.MeanError)}, one reading "
                + Between(p.Value, p.Factor * p.SingleError) + Beyond(p.IsBeyond);
        }

        foreach (var r in study.Reaches)
        {
            yield return $"{Six(r.Y)} is reached at x = {Finite(r.OneReading.Estimate)}, by its mean {Ends(r.Mean)}, by one reading "
                + $"{Ends(r.OneReading)}"
                + Beyond(r.IsBeyond);
        }
    }

    private static string Ends(RatioInterval interval) => interval.Kind switch
    {
        RatioKind.Bounded => $"{Six(interval.Lower)} … {Six(interval.Upper)}",
        RatioKind.Open => $"below {Six(interval.Lower)} or above {Six(interval.Upper)} (the line may be level)",
        _ => "anywhere (the line may be level)",
    };

    private static string Between(double value, double margin) => $"{Six(value - margin)} … {Six(value + margin)}";

    private static string Beyond(bool beyond) => beyond ? "; beyond the points, only if the line goes on like this" : "";

    private static string Finite(double value) => double.IsFinite(value) ? Six(value) : "no x";

    private static string Six(double value) => value.ToString("G6", CultureInfo.InvariantCulture);
}
