using Acquire.Bench.Books;
using Acquire.Bench.Life;
using Acquire.Commands.Books;
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
            Description = $"The kind of solution; the developer when not given: {string.Join(", ", KindWords.All<SolutionKind>())}.",
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
            var asked = new LifeAsked(strips.Of(parsed, surroundings.Time))
            {
                Kind = parsed.GetValue(kind) is { } word ? KindWords.Of<SolutionKind>(word) : null,
                Storage = parsed.GetValue(storage),
                Bottle = parsed.GetValue(bottle),
                Compare = parsed.GetValue(compare),
                See = parsed.GetValue(see),
                Without = [.. parsed.GetValue(without) ?? []],
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var life = await new LifeDesk(store, surroundings.Time).AskAsync(asked, cancellationToken);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, LifeJson.Of(life));
                return ExitCode.Done;
            }

            // To a program it is an answer that nothing can be told; to a person it is a question to be mended.
            if (life.WhyNone is { } why)
            {
                throw new BenchException(why);
            }

            LifeText.Write(surroundings.Out, life);
            return ExitCode.Done;
        });
        return command;
    }
}
