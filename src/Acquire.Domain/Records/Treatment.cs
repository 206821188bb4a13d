namespace Acquire.Domain.Records;

/// <summary>What was done to a strip before it was read again.</summary>
public enum Treatment
{
    /// <summary>Nothing; the reading itself was in doubt.</summary>
    None,

    /// <summary>It was bleached again, and fixed and washed after it.</summary>
    ReBleach,

    /// <summary>It was fixed again, and washed after it.</summary>
    ReFix,

    /// <summary>It was washed again.</summary>
    ReWash,

    /// <summary>It was left to dry completely.</summary>
    Drying,
}

/// <summary>The words of treatments, as commands and exports have them.</summary>
public static class Treatments
{
    /// <summary>The word, such as <c>re-bleach</c>.</summary>
    public static string Word(this Treatment treatment) => treatment switch
    {
        Treatment.None => "none",
        Treatment.ReBleach => "re-bleach",
        Treatment.ReFix => "re-fix",
        Treatment.ReWash => "re-wash",
        Treatment.Drying => "drying",
        _ => throw new ImpossibleValueException($"{treatment} is no treatment."),
    };

    /// <summary>Finds a treatment by its word, in any case; null when there is none.</summary>
    public static Treatment? Parse(string word) =>
        Enum.GetValues<Treatment>().Cast<Treatment?>().FirstOrDefault(t => string.Equals(t!.Value.Word(), word, StringComparison.OrdinalIgnoreCase));
}
