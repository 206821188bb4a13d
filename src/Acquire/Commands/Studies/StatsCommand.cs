using Acquire.Analysis.Control;
using Acquire.Formats.Csv;
using Acquire.Rendering.Series;

namespace Acquire.Commands.Studies;

/// <summary><c>acquire stats</c>: the statistics of the tool on one plain series, to be held against a book.</summary>
internal static class StatsCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var from = new Option<string>("--from")
        {
            Description = "CSV with the column value, and optionally group and x.", HelpName = "FILE", Required = true,
        };
        var target = Number("--target", "Centre of the moving average and of the sums; the mean when not given.");
        var sigma = Number("--sigma", "Standard deviation of one value; mean moving range / d2 when not given.");
        var lambda = Number("--lambda", "Weight of the newest value in the moving average; 0.2 when not given.");
        var width = Number("--width", "Half-width of its limits in standard deviations; 3 when not given.");
        var allowance = Number("--allowance", "Allowance k of the sums, in the unit of the values; half a sigma when not given.");
        var decision = Number("--decision", "Decision interval h of the sums, in the unit of the values; five sigmas when not given.");
        var baseline = new Option<int?>("--baseline")
        {
            Description = "How many of the first values make the natural limits; all when not given.",
            HelpName = "N",
        };
        var at = Given.Option<double[]>(
            "--at", "X", "Predict the value at this x by the line of value on x; may be repeated.");
        var reach = Given.Option<double[]>("--reach", "Y", "Find the x at which the line reaches this value; may be repeated.");
        var readings =
            Given.Option<int?>("--readings", "M", "How many readings a predicted or reached value is the mean of; 1 when not given.");
        var confidence = Number("--confidence", "Confidence of the intervals of --at and --reach; 0.95 when not given.");
        var json = Common.Json();
        var command = new Command(
            "stats",
            "Run the statistics that strips are judged with on a plain series of numbers. Examples: 'acquire stats --from ld.csv "
            + "--baseline 20'; "
            + "'acquire stats --from ageing.csv --at 42 --reach -0.06 --confidence 0.9'.")
        {
            from, target, sigma, lambda, width, allowance, decision, baseline, at, reach, readings, confidence, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var rows = await SeriesCsv.ReadAsync(parsed.GetRequiredValue(from), cancellationToken);
            var usual = new SeriesDesign();
            var study = SeriesStudy.Of([.. rows.Select(r => new SeriesPoint(r.Value, r.Group, r.X))], new SeriesDesign
            {
                Target = parsed.GetValue(target),
                Sigma = parsed.GetValue(sigma),
                Baseline = parsed.GetValue(baseline),
                Lambda = parsed.GetValue(lambda) ?? usual.Lambda,
                Width = parsed.GetValue(width) ?? usual.Width,
                Allowance = parsed.GetValue(allowance),
                Decision = parsed.GetValue(decision),
                At = [.. parsed.GetValue(at) ?? []],
                Reach = [.. parsed.GetValue(reach) ?? []],
                Readings = parsed.GetValue(readings) ?? usual.Readings,
                Confidence = parsed.GetValue(confidence) ?? usual.Confidence,
            });
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, SeriesJson.Of(study));
            }
            else
            {
                SeriesText.Write(surroundings.Out, study);
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static Option<double?> Number(string name, string description) => new(name) { Description = description, HelpName = "X" };
}
