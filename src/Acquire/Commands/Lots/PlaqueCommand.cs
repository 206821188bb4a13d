using Acquire.Bench.Trust;
using Acquire.Rendering.Trust;

namespace Acquire.Commands.Lots;

/// <summary><c>acquire plaque</c>: the user's calibration plaques and their certified values.</summary>
internal static class PlaqueCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("plaque", "Calibration plaques: certified densities, tolerance, how often to check.")
        {
            BuildAdd(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
        };

    private static Argument<string> Name() => new("name") { Description = "Your name for the plaque.", HelpName = "NAME" };

    private static Command BuildAdd(Surroundings surroundings)
    {
        var name = Name();
        var patch = new Option<string[]>("--patch")
        {
            Description = "Certified densities of one patch and, behind a ±, their expanded uncertainty; once per patch, from thin to "
                + "dense, e.g. \"low 0.05 0.06 0.07 ± 0.01\". The open gate may be one: \"zero 0 0 0\".",
            HelpName = "\"PATCH R G B [± U]\"",
        };
        var channels = new Option<string?>("--channels")
        {
            Description = "The channels of the densities, in their order, where they are not red, green, blue (and visual), such as "
                + "visual: then one density a patch, \"mid 1.04 ± 0.01\".",
            HelpName = "LIST",
        };
        var tolerance = new Option<double>("--tolerance")
        {
            Description = "How far a mean may lie from its certified density.",
            HelpName = "D",
            DefaultValueFactory = _ => Plaque.UsualTolerance,
        };
        var due = new Option<int>("--due")
        {
            Description = "Days after a check until the next is due.",
            HelpName = "DAYS",
            DefaultValueFactory = _ => PlaqueRequest.UsualDueDays,
        };
        var expires = new Option<string?>("--expires") { Description = "Last day of the certificate.", HelpName = "YYYY-MM-DD" };
        var note = new Option<string?>("--note") { Description = "A note to keep with the plaque.", HelpName = "TEXT" };
        var command = new Command("add", "Add a plaque.") { name, patch, channels, tolerance, due, expires, note };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var request = new PlaqueRequest(parsed.GetRequiredValue(name), [.. parsed.GetValue(patch) ?? []])
            {
                Channels = parsed.GetValue(channels),
                Tolerance = parsed.GetValue(tolerance),
                DueDays = parsed.GetValue(due),
                Expires = parsed.GetValue(expires),
                Note = parsed.GetValue(note),
            };
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var plaque = await new CheckBook(store, surroundings.Time).AddPlaqueAsync(request, cancellationToken);
            surroundings.Out.Line(
                $"Plaque {plaque.Name} added. Next, check the instrument with it: "
                + $"acquire check --plaque \"{plaque.Name}\" --instrument NAME");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings) => Common.Shows(
        new Command("list", "List the plaques."),
        surroundings,
        (_, store, cancellationToken) => new CheckBook(store, surroundings.Time).ListPlaquesAsync(cancellationToken),
        PlaqueReport.WriteList);

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = Name();
        return Common.Shows(
            new Command("show", "Show a plaque and its certified values.") { name },
            surroundings,
            (parsed, store, cancellationToken) =>
                new CheckBook(store, surroundings.Time).GetPlaqueAsync(parsed.GetRequiredValue(name), cancellationToken),
            (console, plaque, _, json) => PlaqueReport.WriteOne(console, plaque, json));
    }
}
