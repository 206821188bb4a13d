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
            DefaultValueFactory = _ => 30,
        };
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
                parsed.GetValue(expires) is { } day ? GivenDay.Of(day) : null,
                parsed.GetValue(note));
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            await store.AddPlaqueAsync(plaque, cancellationToken);
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

/// <summary>
/// Reads <c>"PATCH R G B ± U"</c> as typed on the command line, or one density for each of the channels said; <c>+-</c> stands for ±, and
/// without it the uncertainty is 0.
/// </summary>
internal static class CertifiedPatch
{
    /// <summary>Reads the channels of a certificate, such as <c>visual</c> or <c>red,green,blue</c>.</summary>
    /// <exception cref="BenchException">A word is no channel, or stands twice.</exception>
    public static ImmutableArray<Channel> ParseChannels(string text)
    {
        var words = text.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        ImmutableArray<Channel> channels =
        [
            .. words.Select(w => Channels.TryParse(w, out var channel)
                ? channel
                : throw new BenchException($"'{w}' is no channel; expected red, green, blue or visual.")),
        ];
        return channels.Length > 0 && channels.Distinct().Count() == channels.Length
            ? channels
            : throw new BenchException(
                $"Cannot read the channels '{text}': expected each channel once, with commas between, such as visual or red,green,blue.");
    }

    /// <param name="said">
    /// The channels of its densities, in their order; null where not said: red, green, blue, and visual where there are four.
    /// </param>
    /// <exception cref="BenchException">It cannot be read.</exception>
    public static PlaquePatch Parse(string text, ImmutableArray<Channel>? said = null)
    {
        var parts = text.Replace("+-", "±", StringComparison.Ordinal).Split('±');
        var words = parts[0].Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var channels = said ?? (words.Length == 5 ? Channels.All : Channels.Colours);
        if (parts.Length > 2 || words.Length != channels.Length + 1)
        {
            throw Wrong(text, said is null
                ? "it is not a patch and three densities, or four with visual; where it is certified in other channels, say so, "
                    + "as in --channels visual"
                : $"it is not a patch and its density in {string.Join(", ", channels.Select(c => c.Word()))}");
        }

        var densities = words.Skip(1).Select(w => Density.TryParse(w, out var d) ? d : throw Wrong(text, $"'{w}' is no density"));
        return new PlaquePatch(
            new Patch(words[0], words[0]),
            ChannelDensities.Of(channels.Zip(densities, KeyValuePair.Create)),
            parts.Length == 1 ? 0 : Uncertainty(text, parts[1]));
    }

    private static double Uncertainty(string text, string part) =>
        double.TryParse(
            part,
            NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite,
            CultureInfo.InvariantCulture,
            out var value)
            ? value
            : throw Wrong(text, $"'{part.Trim()}' is no uncertainty");

    private static BenchException Wrong(string text, string why) => new(
        $"Cannot read \"{text}\": {why}. Expected a patch, its densities in red, green, blue (and visual) or in the "
        + "--channels said, and the certificate's expanded uncertainty behind ±, as in \"low 0.05 0.06 0.07 ± 0.01\". "
        + "A decimal point, not a comma.");
}
