import java.io.File;
import java.util.TreeMap;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;

/** Validates PDFs: `java Validate.java FLAVOUR,… FILE…`. A line for each rule that a file breaks, with its count. */
public class Validate {
  public static void main(String[] args) throws Exception {
    VeraGreenfieldFoundryProvider.initialise();
    for (String id : args[0].split(",")) validate(PDFAFlavour.byFlavourId(id), args);
  }

  static void validate(PDFAFlavour flavour, String[] args) throws Exception {
    for (int i = 1; i < args.length; i++) {
      try (PDFAParser parser = Foundries.defaultInstance().createParser(new File(args[i]), flavour)) {
        PDFAValidator validator = Foundries.defaultInstance().createValidator(flavour, 100, false, false, false);
        ValidationResult result = validator.validate(parser);
        System.out.println(args[i] + ": " + (result.isCompliant() ? "conforms to " : "does not conform to ") + flavour);
        TreeMap<String, Integer> counts = new TreeMap<>();
        for (TestAssertion a : result.getTestAssertions()) {
          if (a.getStatus() != TestAssertion.Status.FAILED) continue;
          String rule = a.getRuleId().getClause() + "-" + a.getRuleId().getTestNumber() + " " + a.getMessage();
          counts.merge(rule, 1, Integer::sum);
        }
        counts.forEach((rule, n) -> System.out.println("  " + rule + " (" + n + ")"));
      }
    }
  }
}
