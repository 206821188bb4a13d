using Acquire.Analysis.Life;
using Acquire.Analysis.Statistics;
using Acquire.Bench.History;
using Acquire.Bench.Life;
using Acquire.Commands.Books;
using Acquire.Commands.Strips;
using Acquire.Rendering.Life;

namespace Acquire.Commands.Studies;

/// <summary><c>acquire life</c>: how long a kind of solution lasts here, by the strips run in it.</summary>
internal static class LifeCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var strips = new StripFilterOptions();
        var kind = new Option<string?>("--solution-kind")
        {
            Description = $"The kind of solution; the developer when not given: {string.Join(", ", BookOptions.Words<SolutionKind>())}.",
            HelpName = "KIND",
        };
        var storage = new Option<string?>("--storage")
        {
            Description =
                "The way of keeping: container, full or part full, gas, as far as it takes to tell it from others, with commas between.",
            HelpName = "WORDS",
        };
        var bottle =
            new Option<string?>("--bottle") { Description = "Where this bottle stands; all in use when not given.", HelpName = "NAME" };
        var compare = new Option<string?>("--compare")
        {
            Description = "Compare only these: method, line or storage; all that differ when not given.",
            HelpName = "WHAT",
        };
        var see = new Option<double?>("--see")
        {
            Description = "The difference of density that a comparison is to show; half of the action limit when not given.",
            HelpName = "D",
        };
        var without = new Option<string[]>("--without")
        {
            Description = "Leave this strip out, as something else had happened to it; may be repeated.",
            HelpName = "ID",
        };
        var json = Common.Json();
        var command = new Command("life", "How long does a solution last with you? Its life by age and use, the bottles in use, and "
            + "what makes a difference." + BookOptions.Care)
        {
            kind, storage, bottle, compare, see, without, json,
        };
        strips.AddTo(command, process: true);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var asked = new LifeAsked(
                parsed.GetValue(kind) is { } word ? BookOptions.Kind<SolutionKind>(word) : null,
                parsed.GetValue(storage),
                parsed.GetValue(bottle),
                Factor(parsed.GetValue(compare)),
                parsed.GetValue(see) is { } difference && !(difference is > 0 and <= 4)
                    ? throw new BenchException("--see takes a difference of density above 0, such as 0.03.")
                    : parsed.GetValue(see));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var history = await StripHistory.LoadAsync(store, strips.Of(parsed, surroundings.Time), surroundings.Time, cancellationToken)
                ?? throw new BenchException("There is no such strip to tell a life by. See: acquire strip list");
            foreach (var id in parsed.GetValue(without) ?? [])
            {
                var left = (await StripCommand.FindAsync(store, id, cancellationToken)).Id;
                history = history.Only([.. history.Strips.Index().Where(p => p.Item.StripId != left).Select(p => p.Index)]);
            }

            Write(SolutionLife.Of(history, asked, surroundings.Time), surroundings, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(SolutionLife life, Surroundings surroundings, bool json)
    {
        if (json)
        {
            JsonOutput.Write(surroundings.Out, LifeJson.Of(life));
        }
        else if (life.Study.Leading is null)
        {
            throw new ModelException(string.Join(' ', [LifeWords.HowLong(life.Study, life.What), .. life.LeftOut()]));
        }
        else
        {
            LifeText.Write(surroundings.Out, life);
        }
    }

    private static string? Factor(string? word) => word is null ? null
        : LifeComparison.Factors.FirstOrDefault(f => string.Equals(f, word, StringComparison.OrdinalIgnoreCase))
            ?? throw new BenchException($"'{word}' cannot be compared; expected method, line or storage.");
}
