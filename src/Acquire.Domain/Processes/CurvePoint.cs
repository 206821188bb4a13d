namespace Acquire.Domain.Processes;

/// <summary>How a place on the curve of density over log exposure is found.</summary>
public abstract record CurvePoint
{
    private protected CurvePoint()
    {
    }

    /// <summary>The place in words, such as <c>0.1 above dmin</c>.</summary>
    /// <param name="basePatchKey">Key of the base patch; null when there is none.</param>
    public abstract string InWords(string? basePatchKey);

    /// <summary>Asks for what a layer does with each kind.</summary>
    public abstract T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond);
}

/// <summary>At a log exposure, on the scale of the layout.</summary>
public sealed record AtLogH : CurvePoint
{
    /// <summary>States the place.</summary>
    /// <exception cref="ImpossibleValueException">The log exposure is not finite.</exception>
    public AtLogH(double logH) => LogH = Guard.Sane(logH, "A log exposure");

    /// <summary>The log exposure.</summary>
    public double LogH { get; }

    /// <inheritdoc/>
    public override string InWords(string? basePatchKey) => FormattableString.Invariant($"log H {LogH}");

    /// <inheritdoc/>
    public override T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond) => at(this);
}

/// <summary>Where the density is so much above that of the base patch, mostly D-min.</summary>
public sealed record AboveBase : CurvePoint
{
    /// <summary>States the place.</summary>
    /// <exception cref="ImpossibleValueException">The density is not above zero.</exception>
    public AboveBase(double density) => Density = Guard.Sane(density, "A density above the base") > 0
        ? density
        : throw new ImpossibleValueException("A density above the base is more than 0.");

    /// <summary>Density above the base patch.</summary>
    public double Density { get; }

    /// <inheritdoc/>
    public override string InWords(string? basePatchKey) => FormattableString.Invariant($"{Density} above {basePatchKey}");

    /// <inheritdoc/>
    public override T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond) => above(this);
}

/// <summary>So much log exposure beyond the first point.</summary>
public sealed record BeyondFirst : CurvePoint
{
    /// <summary>States the place.</summary>
    /// <exception cref="ImpossibleValueException">The step is not finite, or zero.</exception>
    public BeyondFirst(double deltaLogH) => DeltaLogH = Guard.Sane(deltaLogH, "A step of log exposure") != 0
        ? deltaLogH
        : throw new ImpossibleValueException("The second point of a gradient lies beyond the first, not on it.");

    /// <summary>The step in log exposure.</summary>
    public double DeltaLogH { get; }

    /// <inheritdoc/>
    public override string InWords(string? basePatchKey) => FormattableString.Invariant($"log H {DeltaLogH:+0.###;-0.###}");

    /// <inheritdoc/>
    public override T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond) => beyond(this);
}
