namespace LearningBenchmark.Formats;

/// <summary>A way of writing densities that few instruments have, besides the variations of <see cref="FormatDrawer"/>.</summary>
public enum RareHabit
{
    None,

    /// <summary>260 for 0.26: whole numbers of a finer unit than the display's.</summary>
    Scaled,

    /// <summary>0.2612 for a display of 0.26, rounded or cut.</summary>
    MoreSent,

    /// <summary>RED......0.26, with as many dots as the column leaves.</summary>
    Leaders,

    /// <summary>0120.26: a counter that touches the first column.</summary>
    GluedCounter,

    /// <summary>0,26,0,62,0,80: one mark for decimals and between numbers.</summary>
    OneMark,

    /// <summary>0.26 0.26: each number twice.</summary>
    Twice,

    /// <summary>0.26L: a letter behind each number that depends on it.</summary>
    LetterBehind,

    /// <summary>2.60E-01.</summary>
    Exponent,

    /// <summary>01A: hundredths or thousandths in hexadecimal.</summary>
    Hexadecimal,
}

/// <summary>Gives a drawn format one rare habit; all that can go with it stays as drawn.</summary>
public static class RareHabits
{
    private static readonly string[] NumberFree = ["", "", "T ", "Status M ", "> ", "%d ", "%y ", "[%n] "];

    public static InventedFormat With(this InventedFormat format, RareHabit habit, Random random)
    {
        var plain = format with
        {
            Habit = habit,
            DisplayDecimals = format.Decimals,
            Flaw = format.Flaw is Flaw.DisplayRounds or Flaw.EqualVisual ? null : format.Flaw,
            Cuts = random.Next(3) == 0,
        };
        return habit switch
        {
            RareHabit.Scaled => plain with
            {
                Mark = '\0', Decimals = 2, DisplayDecimals = 2, Scale = random.Next(1, 3),
                ImpliedDigits = format.Width > 0 && random.Next(2) == 0 ? 0 : 4,
                Sign = '-', Separator = format.Separator is "," ? ";" : format.Separator,
            },
            RareHabit.MoreSent =>
                plain with { Decimals = random.Next(3, 5), DisplayDecimals = 2, ImpliedDigits = 0, Mark = Marked(format) },
            RareHabit.Leaders => plain with { Label =
                random.Next(2) == 0 ? "&" : "& ", Width = format.Decimals + random.Next(5, 9), LeadingZero = true,
                Sign = format.Sign == ' ' ? '-' : format.Sign, ImpliedDigits = format.Decimals + 1 },
            RareHabit.GluedCounter => plain with
            {
                ChannelPerLine = false, Label = "", LeadingZero = true, Sign = '-', ImpliedDigits = format.Decimals + 1,
                Prefix = random.Next(3) switch { 0 => "%n", 1 => "%b", _ => "No.%n" },
                Width = format.Decimals + (format.Mark == '\0' ? 1 : 2),
                Separator = random.Next(3) switch { 0 => "", 1 => " ", _ => ";" },
                NeverNegative = true,
            },
            RareHabit.OneMark => plain with
            {
                ChannelPerLine =
                    false, Label = "", Mark = random.Next(3) == 0 ? '.' : ',', Separator = "mark", Width = 0, LeadingZero = true,
                Prefix = random.Next(3) switch { 0 => "%n,", 1 => "%u,", _ => NumberFree[random.Next(NumberFree.Length)] },
                Sign = format.Sign == ' ' ? '-' : format.Sign,
            },
            RareHabit.Twice => plain with { Again = random.Next(3) switch { 0 => " ", 1 => "/", _ => "line" }, Width = 0,
                Separator = format.Separator is "" ? " " : format.Separator },
            RareHabit.LetterBehind => plain with { Letters =
                random.Next(3) switch { 0 => "LMH", 1 => "abc", _ => "XYZ" }, LeadingZero = true,
                Label = format.Label is "*" ? "*=" : format.Label, Separator = format.Separator is "" ? " " : format.Separator },
            RareHabit.Exponent => plain with { ExponentDecimals =
                format.Decimals + (random.Next(2) == 0 ? 0 : 2), Mark = Marked(format), Width = 0,
                LeadingZero = true },
            RareHabit.Hexadecimal => plain with { Mark = '\0', ImpliedDigits = format.Decimals == 3 ? 4 : random.Next(3, 5),
                Label = format.Label is "*" or "D*" ? "*=" : format.Label, Sign = '-', Width = 0,
                Separator = format.Separator is "" ? " " : format.Separator },
            _ => plain,
        };
    }

    private static char Marked(InventedFormat format) => format.Mark == '\0' ? '.' : format.Mark;
}
