namespace Acquire.Analysis.Uncertainty;

/// <summary>Whether a true value is inside its limit, the uncertainty counted in.</summary>
public enum Verdict
{
    /// <summary>Inside, with the probability asked for.</summary>
    InControl,

    /// <summary>Neither can be said with the probability asked for.</summary>
    Undecided,

    /// <summary>Outside, with the probability asked for.</summary>
    OutOfControl,
}

/// <summary>The rule that makes a verdict of a probability.</summary>
public static class Verdicts
{
    /// <summary>The probability asked for when nothing else is set.</summary>
    public const double UsualLevel = 0.95;

    /// <summary>Makes a verdict.</summary>
    /// <param name="probabilityInside">Probability, 0 … 1, that the true value is inside.</param>
    /// <param name="level">Probability asked for, above 0.5.</param>
    public static Verdict Of(double probabilityInside, double level = UsualLevel) =>
        probabilityInside >= level ? Verdict.InControl : probabilityInside <= 1 - level ? Verdict.OutOfControl : Verdict.Undecided;

    /// <summary>The verdict in words.</summary>
    public static string Word(this Verdict verdict) => verdict switch
    {
        Verdict.InControl => "in control",
        Verdict.OutOfControl => "out of control",
        _ => "undecided",
    };

    /// <summary>The verdict in the word that scripts rely on; null for none.</summary>
    public static string? Code(this Verdict? verdict) => verdict switch
    {
        Verdict.InControl => "in",
        Verdict.OutOfControl => "out",
        Verdict.Undecided => "undecided",
        _ => null,
    };
}
