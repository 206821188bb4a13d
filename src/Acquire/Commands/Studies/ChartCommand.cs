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
            var history = await StripHistory.LoadAsync(store, options.Filter(parsed), surroundings.Time, cancellationToken)
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
