using Acquire.Bench.Trust;
using Acquire.Rendering.Trust;

namespace Acquire.Commands.Lots;

/// <summary><c>acquire plaque</c>: the user's calibration plaques and their certified values.</summary>
internal static class PlaqueCommand
{
    public static Command Build(
        Surroundings surroundings) => new("plaque", "Calibration plaques: certified densities, tolerance, how often to check.")
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
            Description =
                "Certified densities of one patch and, behind a ±, their expanded uncertainty; once per patch, from thin to dense, "
                + "e.g. \"low 0.05 0.06 0.07 ± 0.01\". The open gate may be one: \"zero 0 0 0\".",
            HelpName = "\"PATCH R G B [± U]\"",
        };
        var channels = new Option<string?>("--channels")
        {
            Description =
                "The channels of the densities, in their order, where they are not red, green, blue (and visual), such as visual: then one "
                + "density a patch, \"mid 1.04 ± 0.01\".",
            HelpName = "LIST",
        };
        var tolerance = new Option<double>("--tolerance")
        {
            Description = "How far a mean may lie from its certified density.",
            HelpName = "D",
            DefaultValueFactory = _ => Plaque.UsualTolerance,
        };
        var due = new Option<int>(
            "--due") { Description = "Days after a check until the next is due.", HelpName = "DAYS", DefaultValueFactory = _ => 30 };
        var expires = new Option<string?>("--expires") { Description = "Last day of the certificate.", HelpName = "YYYY-MM-DD" };
        var note = new Option<string?>("--note") { Description = "A note to keep with the plaque.", HelpName = "TEXT" };
        var command = new Command("add", "Add a plaque.") { name, patch, channels, tolerance, due, expires, note };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var patches = parsed.GetValue(patch) ?? [];
            if (patches.Length == 0)
            {
                throw new BenchException(
                    "Enter the certified densities with --patch, once per patch, e.g. --patch \"low 0.05 0.06 0.07 ± 0.01\".");
            }

            ImmutableArray<Channel>? said = parsed.GetValue(channels) is { } list ? CertifiedPatch.ParseChannels(list) : null;
            var plaque = new Plaque(
                parsed.GetRequiredValue(name),
                [.. patches.Select(p => CertifiedPatch.Parse(p, said))],
                parsed.GetValue(tolerance),
                parsed.GetValue(due),
                parsed.GetValue(expires) is { } day ? DayText.Day(day) : null,
                parsed.GetValue(note));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            await store.AddPlaqueAsync(plaque, cancellationToken);
            surroundings.Out.Line(
                $"Plaque {plaque.Name} added. Next, check the instrument with it: acquire check --plaque \"{plaque.Name}\" --port PORT "
                + $"--profile PROFILE");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command("list", "List the plaques.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            PlaqueReport.WriteList(
                surroundings.Out,
                await store.ListPlaquesAsync(cancellationToken),
                await store.ListChecksAsync(cancellationToken),
                surroundings.Time,
                parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = Name();
        var json = Common.Json();
        var command = new Command("show", "Show a plaque and its certified values.") { name, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var plaque = await new CheckBook(store, surroundings.Time).GetPlaqueAsync(parsed.GetRequiredValue(name), cancellationToken);
            PlaqueReport.WriteOne(surroundings.Out, plaque, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}
