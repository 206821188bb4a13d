namespace Acquire.Domain.Trust;

/// <summary>The user's calibration plaque: a piece of film or glass whose patches have certified densities. It never
/// changes; a plaque that was certified anew is another one.</summary>
public sealed record Plaque
{
    /// <summary>The widest tolerance, in density: beyond it a check would prove nothing.</summary>
    public const double WidestTolerance = 0.5;

    /// <summary>The tolerance where the user states none: a slope is adjusted when off by
    /// more than 0.02 (common practice in density control).</summary>
    public const double UsualTolerance = 0.02;

    /// <summary>The most days between two checks.</summary>
    public const int MostDays = 3660;

    /// <param name="name">The user's name for it.</param>
    /// <param name="patches">Two patches at least, from thin to dense: zero and slope
    /// need two. The open gate may be one of them, with 0.00.</param>
    /// <param name="tolerance">How far a mean may lie from its certified density, above 0, in density.</param>
    /// <param name="dueDays">Days after a check until the next is due.</param>
    /// <param name="expires">Last day of the certificate; null when it has none.</param>
    /// <param name="note">A note of the user's.</param>
    /// <exception cref="ImpossibleValueException">Fewer than two patches, patches with different channels, densities that do not rise from
    /// patch to patch, a tolerance or interval out of bounds.</exception>
    public Plaque(
        string name, ImmutableArray<PlaquePatch> patches, double tolerance, int dueDays, DateOnly? expires = null, string? note = null)
    {
        Name = Guard.Text(name, "The name of a plaque");
        Patches = Guard.NotEmpty(patches, $"The patches of plaque {Name}");
        Guard.That(
            Patches.Length >= 2,
            $"Plaque {Name} needs two patches at least, since zero and slope "
            + "cannot be told from one. The open gate may be one, with 0.00.");
        Layout = new StripLayout(Name, [.. Patches.Select(p => p.Patch)]);
        // Zero and slope are a line through the patches in each channel, so each patch is needed in each, and rising.
        RefuseUnequalChannels();
        RefuseFallingDensities();
        Tolerance = tolerance is > 0 and <= WidestTolerance
            ? tolerance
            : throw new ImpossibleValueException(
                $"The tolerance of a plaque is a density above 0 and up to {WidestTolerance}, such as 0.02; not {tolerance}.");
        DueDays = dueDays is >= 1 and <= MostDays
            ? dueDays
            : throw new ImpossibleValueException($"A check is due again after 1 to {MostDays} days, not {dueDays}.");
        (Expires, Note) = (expires, note);
    }

    /// <summary>The user's name for it.</summary>
    public string Name { get; }

    /// <summary>The certified patches, from thin to dense.</summary>
    public ImmutableArray<PlaquePatch> Patches { get; }

    /// <summary>How far a mean may lie from its certified density, in density.</summary>
    public double Tolerance { get; }

    /// <summary>Days after a check until the next is due.</summary>
    public int DueDays { get; }

    /// <summary>Last day of the certificate; null when it has none.</summary>
    public DateOnly? Expires { get; }

    /// <summary>A note of the user's.</summary>
    public string? Note { get; }

    /// <summary>The patches in the order in which they are read.</summary>
    public StripLayout Layout { get; }

    /// <summary>The channels that are certified, in the usual order.</summary>
    public ImmutableArray<Channel> Channels => Patches[0].Certified.Present;

    /// <summary>Whether the certificate has run out on a day.</summary>
    public bool IsExpiredOn(DateOnly day) => Expires is { } last && day > last;

    private void RefuseUnequalChannels()
    {
        if (Patches.FirstOrDefault(p => !p.Certified.Present.SequenceEqual(Channels)) is { } odd)
        {
            throw new ImpossibleValueException(
                $"Patch {odd.Patch.Key} of plaque {Name} is certified in {Words(odd.Certified.Present)}, "
                + $"patch {Patches[0].Patch.Key} in {Words(Channels)}; expected the same for all.");
        }
    }

    private void RefuseFallingDensities()
    {
        for (var i = 1; i < Patches.Length; i++)
        {
            var (thin, dense) = (Patches[i - 1], Patches[i]);
            // Strictly: two patches alike give a slope nothing to stand on, and a certificate that falls was typed wrongly.
            foreach (var channel in Channels.Where(c => dense.Certified[c] <= thin.Certified[c]))
            {
                throw new ImpossibleValueException(
                    $"The patches of plaque {Name} must go from thin to dense: {channel.Word()} is "
                    + $"{thin.Certified[channel]} in {thin.Patch.Key} and {dense.Certified[channel]} in "
                    + $"{dense.Patch.Key}. Check the values and their order against the certificate.");
            }
        }
    }

    private static string Words(IEnumerable<Channel> channels) => string.Join(", ", channels.Select(c => c.Word()));
}

/// <summary>One patch of a plaque with what its certificate says.</summary>
public sealed record PlaquePatch
{
    /// <param name="certified">Its certified densities; it is checked in these channels.</param>
    /// <param name="uncertainty">Expanded uncertainty of each of them as certificates state it, coverage factor 2, in density.</param>
    /// <exception cref="ImpossibleValueException">The uncertainty is below zero or not below 1.</exception>
    public PlaquePatch(Patch patch, ChannelDensities certified, double uncertainty)
    {
        (Patch, Certified) = (patch, certified);
        Uncertainty = uncertainty is >= 0 and < 1
            ? uncertainty
            : throw new ImpossibleValueException(
                $"The uncertainty of patch {patch.Key} is a density between 0 and 1, such as 0.01; not {uncertainty}.");
    }

    public Patch Patch { get; }

    public ChannelDensities Certified { get; }

    /// <summary>Expanded uncertainty (coverage factor 2), in density.</summary>
    public double Uncertainty { get; }

    /// <summary>Standard uncertainty, in density: half the expanded one.</summary>
    public double StandardUncertainty => Uncertainty / 2;
}
