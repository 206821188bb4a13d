namespace Acquire.Commands;

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

    /// <summary>Reads one certified patch.</summary>
    /// <param name="text">As typed.</param>
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
                ? "it is not a patch and three densities, or four with visual; where it is certified in other channels, say so, as in "
                    + "--channels visual"
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
        $"Cannot read \"{text}\": {why}. Expected a patch, its densities in red, green, blue (and visual) or in the --channels said, "
        + $"and the "
        + "certificate's expanded uncertainty behind ±, as in \"low 0.05 0.06 0.07 ± 0.01\". A decimal point, not a comma.");
}
