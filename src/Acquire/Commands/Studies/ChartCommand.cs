using System.Text;
using Acquire.Analysis.Charts;
using Acquire.Bench.Charts;
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
            var file = parsed.GetValue(options.Out) is { } named ? OutFile.At(parsed, named) : null;
            var (asked, json) = (options.Asked(parsed, surroundings.Time), parsed.GetValue(options.Json));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var chart = await new ChartDesk(store, surroundings.Time).AskAsync(asked, cancellationToken);
            // An empty chart is an answer to a program and none to a person.
            if (chart.WhyEmpty is { } why && !json)
            {
                throw new BenchException(why);
            }

            if (draw is not null && file is not null)
            {
                await file.WriteAsync(draw(chart.Model), cancellationToken);
                surroundings.Error.Line($"Wrote {file.Name}.");
            }

            if (json)
            {
                JsonOutput.Write(surroundings.Out, ChartJson.Of(chart.Model));
            }
            else if (draw is null)
            {
                ChartText.Write(surroundings.Out, chart.Model);
            }

            return ExitCode.Done;
        });
        return command;
    }
}

internal sealed class ChartOptions
{
    private readonly StripFilterOptions _strips = new();
    private readonly Option<string[]> _parameters = new("--parameter")
    {
        Description = "Only these parameters, by key; all when not given. 'acquire process show' lists them.",
        HelpName = "KEY",
        AllowMultipleArgumentsPerToken = true,
    };

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

    public Option<string?> Out { get; } = new("--out") { Description = "Write the chart to this file, .svg or .png.", HelpName = "FILE" };

    public Option<bool> Json { get; } = Common.Json();

    public void AddTo(Command command)
    {
        _strips.AddTo(command, process: true, bottle: true);
        foreach (Option option in new Option[] { _parameters, _axis, Out, OutFile.Force, _width, Json })
        {
            command.Add(option);
        }
    }

    public ChartAsked Asked(ParseResult parsed, TimeProvider time) => new(_strips.Of(parsed, time))
    {
        Axis = ChartAxisWords.Parse(parsed.GetValue(_axis)),
        Parameters = [.. parsed.GetValue(_parameters) ?? []],
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
