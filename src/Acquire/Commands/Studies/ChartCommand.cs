using System.Text;
using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Bench.History;
using Acquire.Rendering.Charts;

namespace Acquire.Commands.Studies;

/// <summary><c>acquire chart</c>: deviations against date, age, opening or area.</summary>
internal static class ChartCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var options = new ChartOptions();
        var command = new Command(
            "chart", "Chart the deviations of the strips, a panel for each parameter: at the terminal, as SVG or PNG, or as JSON.");
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            // A bad file name is told before anything is loaded.
            var draw = options.Renderer(parsed);
            var whole = parsed.GetValue(options.Out) is { } named ? OutFile.At(parsed, named) : null;
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var history = await StripHistory.LoadAsync(store, options.Strips.Of(parsed, surroundings.Time), surroundings.Time, cancellationToken)
                ?? throw new BenchException("There is no such strip to chart. See: acquire strip list");
            var model = ChartModel.Of(new ChartRequest(history.Sheet, history.Strips)
            {
                Axis = options.Axis(parsed),
                Parameters = [.. parsed.GetValue(options.Parameters) ?? []],
                Events = history.Events,
                Findings = DriftStudy.Of(HistorySeries.Of(history.Strips), key => history.Sheet.Find(key)?.Name ?? key).Findings,
                VerdictOf = (_, result) => result.Verdict?.Verdict,
            });
            if (history.OfOtherProcesses > 0)
            {
                model = model with { Notes = model.Notes.Add(
                    $"{Numbers.Count(history.OfOtherProcesses, "strip")} of other processes left out; --process chooses one.") };
            }

            if (model.Strips == 0 && !parsed.GetValue(options.Json))
            {
                throw new BenchException(string.Join(' ', model.Notes.Prepend("No strip has a place on this axis.")));
            }

            await WriteAsync(parsed, options, model, draw, whole, surroundings, cancellationToken);
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task WriteAsync(
        ParseResult parsed,
        ChartOptions options,
        ChartModel model,
        Func<ChartModel, byte[]>? draw,
        WholeFile? file,
        Surroundings surroundings,
        CancellationToken cancellationToken)
    {
        if (draw is not null && file is not null)
        {
            await file.WriteAsync(draw(model), cancellationToken);
            surroundings.Error.Line($"Wrote {file.Name}.");
        }

        if (parsed.GetValue(options.Json))
        {
            JsonOutput.Write(surroundings.Out, ChartJson.Of(model));
        }
        else if (draw is null)
        {
            ChartText.Write(surroundings.Out, model);
        }
    }
}

internal sealed class ChartOptions
{
    public StripFilterOptions Strips { get; } = new();

    private readonly Option<string> _axis = new("--axis")
    {
        Description =
            "What the strips are charted against: date, age (of the mix), "
            + "open (time since the bottle was opened) or area (film processed).",
        HelpName = "AXIS",
        DefaultValueFactory = _ => "date",
    };

    private readonly Option<int> _width = new("--width")
    {
        Description = "Width of an SVG or PNG, in pixels.",
        HelpName = "PX",
        DefaultValueFactory = _ => ChartSvg.UsualWidth,
    };

    public Option<string[]> Parameters { get; } = new("--parameter")
    {
        Description = "Only these parameters, by key; all when not given. 'acquire process show' lists them.",
        HelpName = "KEY",
        AllowMultipleArgumentsPerToken = true,
    };

    public Option<string?> Out { get; } = new("--out") { Description = "Write the chart to this file, .svg or .png.", HelpName = "FILE" };

    public Option<bool> Json { get; } = Common.Json();

    public void AddTo(Command command)
    {
        Strips.AddTo(command, process: true, bottle: true);
        foreach (Option option in new Option[] { Parameters, _axis, Out, OutFile.Force, _width, Json })
        {
            command.Add(option);
        }
    }

    public ChartAxis Axis(ParseResult parsed) => parsed.GetValue(_axis)?.ToUpperInvariant() switch
    {
        "DATE" => ChartAxis.Date,
        "AGE" => ChartAxis.AgeOfMix,
        "OPEN" => ChartAxis.DaysOpen,
        "AREA" => ChartAxis.AreaPerLitre,
        _ => throw new BenchException($"'{parsed.GetValue(_axis)}' is no axis; expected date, age, open or area."),
    };

    /// <summary>What makes the file; null when none is asked for.</summary>
    public Func<ChartModel, byte[]>? Renderer(ParseResult parsed)
    {
        var width = parsed.GetValue(_width);
        return width is < ChartSvg.LeastWidth or > ChartSvg.LargestWidth
            ? throw new BenchException(string.Create(
                CultureInfo.InvariantCulture, $"--width takes a whole number from {ChartSvg.LeastWidth} to {ChartSvg.LargestWidth}."))
            : (parsed.GetValue(Out), Path.GetExtension(parsed.GetValue(Out))?.ToUpperInvariant()) switch
            {
                (null, _) => null,
                (_, ".SVG") => model => Encoding.UTF8.GetBytes(ChartSvg.Of(model, width)),
                (_, ".PNG") => model => ChartPng.Of(model, width),
                (var file, _) => throw new BenchException($"'{file}' is neither .svg nor .png; the ending of --out says what is drawn."),
            };
    }
}
