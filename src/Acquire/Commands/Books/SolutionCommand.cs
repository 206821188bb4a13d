using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary><c>acquire solution</c>: mixes.</summary>
internal static class SolutionCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("solution", "Solutions: what was mixed, when, and from which concentrate." + BookOptions.Care)
        {
            BuildMix(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
        };

    private static Command BuildMix(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "Your name for the mix, such as dev12.", HelpName = "NAME" };
        var volume = new Argument<string>("volume") { Description = "How much was mixed, such as 1L.", HelpName = "VOLUME" };
        var kind = new Option<string>("--kind")
        {
            Description = $"What it does: {string.Join(", ", KindWords.All<SolutionKind>())}.",
            HelpName = "KIND",
            DefaultValueFactory = _ => "developer",
        };
        var process = Given.Option<string?>("--process", "KEY", "Key of the process sheet; that of the last mix when not given.");
        var concentrate = Given.Option<string?>("--concentrate", "LOT", "Lot of the concentrate, as printed on it.");
        var command = new Command("mix", "Enter a mix." + BookOptions.Care) { name, volume, kind, process, concentrate };
        return BookOptions.Enters(command, surroundings, parsed => new MixRequest(
            parsed.GetRequiredValue(name),
            KindWords.Of<SolutionKind>(parsed.GetRequiredValue(kind)),
            Amounts.Volume(parsed.GetRequiredValue(volume)),
            parsed.GetValue(process) is { } key ? Common.Processes(parsed).Get(key).Key : null,
            parsed.GetValue(concentrate)));
    }

    private static Command BuildList(Surroundings surroundings) => BookOptions.Shows(
        new Command("list", "List the mixes."),
        surroundings,
        (_, books, cancellationToken) => books.MixesAsync(cancellationToken),
        SolutionReport.WriteList);

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = new Argument<string>("name") { Description = "The mix.", HelpName = "NAME" };
        return BookOptions.Shows(
            new Command("show", "Show a mix and its bottles.") { name },
            surroundings,
            (parsed, books, cancellationToken) => books.MixAsync(parsed.GetRequiredValue(name), cancellationToken),
            SolutionReport.WriteOne);
    }
}
