using Plaque = Acquire.Domain.Trust.Plaque;

namespace Acquire.Bench.Trust;

/// <summary>A plaque that is to be added.</summary>
/// <param name="Patches">
/// Certified densities as the certificate has them, a patch each, <c>"PATCH R G B ± U"</c>, from thin to dense; U is the expanded
/// uncertainty, 0 without it.
/// </param>
public sealed record PlaqueRequest(string Name, ImmutableArray<string> Patches)
{
    /// <summary>Days until the next check is due, where nobody says.</summary>
    public const int UsualDueDays = 30;

    /// <summary>The channels of the densities in their order, such as <c>visual</c>; null for red, green, blue (and visual).</summary>
    public string? Channels { get; init; }

    /// <summary>How far a mean may lie from its certified density.</summary>
    public double Tolerance { get; init; } = Plaque.UsualTolerance;

    public int DueDays { get; init; } = UsualDueDays;

    /// <summary>Last day of the certificate, such as <c>2027-06-30</c>; null where it has none.</summary>
    public string? Expires { get; init; }

    public string? Note { get; init; }

    /// <exception cref="BenchException">There is no patch, or one, a channel or the day cannot be read.</exception>
    /// <exception cref="ImpossibleValueException">A value cannot be.</exception>
    internal Plaque Make()
    {
        if (Patches.IsDefaultOrEmpty)
        {
            throw new BenchException(
                "Enter the certified densities with --patch, once per patch, e.g. --patch \"low 0.05 0.06 0.07 ± 0.01\".");
        }

        ImmutableArray<Channel>? said = Channels is { } list ? CertifiedPatch.ParseChannels(list) : null;
        return new Plaque(
            Name,
            [.. Patches.Select(p => CertifiedPatch.Parse(p, said))],
            Tolerance,
            DueDays,
            Expires is { } day ? GivenDay.Of(day) : null,
            Note);
    }
}

/// <summary>
/// Reads <c>"PATCH R G B ± U"</c> as people type it, or one density for each of the channels said; <c>+-</c> stands for ±, and
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
