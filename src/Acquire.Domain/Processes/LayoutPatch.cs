namespace Acquire.Domain.Processes;

/// <summary>One patch of a layout, with what the process sheet knows of it.</summary>
public sealed record LayoutPatch
{
    /// <summary>States a patch.</summary>
    /// <param name="patch">The patch.</param>
    /// <param name="logH">log10 of its exposure; null when it is not known.</param>
    /// <param name="role">What it is read for.</param>
    /// <exception cref="ImpossibleValueException">The log exposure is not finite.</exception>
    public LayoutPatch(Patch patch, double? logH = null, PatchRole role = PatchRole.Judged)
    {
        Patch = patch ?? throw new ImpossibleValueException("A layout needs its patches.");
        LogH = logH is { } h ? Guard.Finite(h, $"The log exposure of {patch.Name}") : null;
        Role = role;
    }

    /// <summary>The patch.</summary>
    public Patch Patch { get; }

    /// <summary>log10 of its exposure, on the scale of the layout; null when it is not known.</summary>
    public double? LogH { get; }

    /// <summary>What it is read for.</summary>
    public PatchRole Role { get; }
}

/// <summary>What a patch is read for.</summary>
public enum PatchRole
{
    /// <summary>Parameters may be taken of it alone.</summary>
    Judged,

    /// <summary>It helps to draw the curve; no parameter is taken of it alone.</summary>
    Curve,
}
