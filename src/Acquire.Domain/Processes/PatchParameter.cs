namespace Acquire.Domain.Processes;

public sealed record PatchParameter : Parameter
{
    /// <exception cref="ImpossibleValueException">A name or the channels are empty, or a channel is named twice.</exception>
    public PatchParameter(
        string key, string name, string standsFor, string patchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, channels, limits) => PatchKey = Guard.Text(patchKey, $"The patch of {name}");

    public string PatchKey { get; }

    /// <inheritdoc/>
    public override string Kind => "patch";

    /// <inheritdoc/>
    public override string MadeOf => PatchKey;

    /// <inheritdoc/>
    public override ImmutableArray<string> PatchKeys => [PatchKey];

    /// <inheritdoc/>
    public override T Match<T>(
        Func<PatchParameter, T> patch,
        Func<DifferenceParameter, T> difference, Func<SpreadParameter, T> spread, Func<CurveParameter, T> curve) => patch(this);
}

/// <summary>The density of one patch minus that of another, in the same channel.</summary>
public sealed record DifferenceParameter : Parameter
{
    /// <exception cref="ImpossibleValueException">A name or the channels are empty, a
    /// channel is named twice, or both patches are one.</exception>
    public DifferenceParameter(
        string key, string name, string standsFor, string patchKey, string minusPatchKey, ImmutableArray<Channel> channels,
        ParameterLimits limits)
        : base(key, name, standsFor, channels, limits)
    {
        PatchKey = Guard.Text(patchKey, $"The first patch of {name}");
        MinusPatchKey = TwoPatches(PatchKey, Guard.Text(minusPatchKey, $"The second patch of {name}"), Name);
    }

    public string PatchKey { get; }

    /// <summary>Key of the patch that is taken away.</summary>
    public string MinusPatchKey { get; }

    /// <inheritdoc/>
    public override string Kind => "difference";

    /// <inheritdoc/>
    public override string MadeOf => $"{PatchKey} − {MinusPatchKey}";

    /// <inheritdoc/>
    public override ImmutableArray<string> PatchKeys => [PatchKey, MinusPatchKey];

    /// <inheritdoc/>
    public override T Match<T>(
        Func<PatchParameter, T> patch,
        Func<DifferenceParameter, T> difference, Func<SpreadParameter, T> spread, Func<CurveParameter, T> curve) => difference(this);
}

/// <summary>The largest minus the smallest colour deviation of another parameter. Definitions differ between published
/// documents; this is the usual one, and the one the tool uses.</summary>
public sealed record SpreadParameter : Parameter
{
    /// <exception cref="ImpossibleValueException">A name is empty.</exception>
    public SpreadParameter(string key, string name, string standsFor, string ofKey, ParameterLimits limits)
        : base(key, name, standsFor, null, limits) => OfKey = Guard.Text(ofKey, $"The parameter that {name} is taken of");

    /// <summary>Key of the parameter whose colour deviations are compared.</summary>
    public string OfKey { get; }

    /// <inheritdoc/>
    public override string Kind => "spread";

    /// <inheritdoc/>
    public override string MadeOf => OfKey;

    /// <inheritdoc/>
    public override string OfParameterKey => OfKey;

    /// <inheritdoc/>
    public override bool HasSign => false;

    /// <summary>It lies where its parameter lies.</summary>
    public override bool IsOn(SheetLayout layout, ProcessSheet sheet) => sheet.Get(OfKey).IsOn(layout, sheet);

    /// <inheritdoc/>
    public override T Match<T>(
        Func<PatchParameter, T> patch,
        Func<DifferenceParameter, T> difference, Func<SpreadParameter, T> spread, Func<CurveParameter, T> curve) => spread(this);

    private protected override void CheckReferences(ProcessSheet sheet)
    {
        Guard.That(
            Densitometry.Channels.Colours.All(sheet.Get(OfKey).Channels.Contains),
            $"{Name} is the spread of '{OfKey}', which must be a patch, a difference or of the curve, in red, green and blue.");
    }
}
