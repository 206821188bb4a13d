namespace Acquire.Storage.Import;

/// <summary>One read of one patch from a file.</summary>
/// <param name="File">The file.</param>
/// <param name="Line">Line of the file, from 1.</param>
/// <param name="Patch">The patch, in the file's word.</param>
/// <param name="Read">Which read; no two reads of one patch and placement are alike.</param>
/// <param name="Placement">Which placement of the patch the read was taken in; null where the file does not say: each read is one.</param>
/// <param name="Values">The number in each channel, with the decimals it is written with.</param>
public sealed record ImportedRead(
    string File, int Line, string Patch, int Read, string? Placement, ImmutableSortedDictionary<Channel, decimal> Values)
{
    /// <summary>Whether every number could be a density.</summary>
    public bool IsDensities => Values.Values.All(v => Density.IsPossible(Shown(v)));

    /// <summary>The numbers as densities. Decimals beyond the sixth no instrument shows: a computer has counted with them; they are rounded away.</summary>
    /// <exception cref="ImportException">A number is no density; the message says file, line and what was expected.</exception>
    public ChannelDensities ToDensities() => ChannelDensities.Of(Values.Select(v => KeyValuePair.Create(v.Key, ToDensity(v.Key, v.Value))));

    private static decimal Shown(decimal value) => value.Scale > Density.MostDecimals ? Math.Round(value, Density.MostDecimals) : value;

    private Density ToDensity(Channel channel, decimal value) => Density.IsPossible(Shown(value))
        ? new Density(Shown(value))
        : throw new ImportException(string.Create(
            CultureInfo.InvariantCulture,
            $"{File}, line {Line}: {channel.Word()} is {value}; expected a density between {Density.Least} and {Density.Largest}, such as 0.26."));
}
