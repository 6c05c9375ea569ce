/*
 * Bankfire example sketch: one forge on an ATmega328P at 16 MHz and 5 V.
 *
 * Reads a type K thermocouple through a MAX31855K (SPI, through level shifters: that chip is a 3.3 V part) and a
 * ratiometric 0.5-4.5 V pressure transducer (ADC0, reference AVcc), and writes one SenML line ten times a second at
 * 57,600 baud, 8N1, with its running number and its CRC: see ../line-protocol.md.
 *
 *   PB2 (SS)   chip select        PC0 (ADC0)  transducer's output
 *   PB4 (MISO) data out           PD1 (TXD)   to the USB serial adapter
 *   PB5 (SCK)  clock
 *
 * It measures. It closes no valve and keeps no flame safe.
 */
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/pgmspace.h>
#include <avr/sleep.h>
#include <avr/wdt.h>
#include <stdint.h>

#ifndef F_CPU
#define F_CPU 16000000UL
#endif
#define BAUD 57600UL

/* The forge's id, as in the daemon's configuration: letters, digits, '-', '.' and '_'. */
#ifndef FORGE
#define FORGE "shed"
#endif

/* A line is at most 180 bytes with a FORGE of 20; the protocol allows 4,096. */
#define MAX_LINE 256

/* Below and above these shares of its supply (0.1 V and 4.9 V of 5 V) no healthy 0.5-4.5 V transducer stands. */
#define RATIO_LOW (65536UL * 2 / 100)
#define RATIO_HIGH (65536UL * 98 / 100)

/* Conversions added up for one value: noise falls eightfold, and 64 full-scale counts of 1,024 make 65,536. */
#define CONVERSIONS 64

static char line[MAX_LINE];
static uint16_t length;
static volatile uint8_t ticks;

/* ---- writing the line ---- */

static void put_char(char c)
{
	if (length < MAX_LINE)
		line[length++] = c;
}

static void put_text(const char *flash)
{
	for (char c; (c = (char)pgm_read_byte(flash)) != 0; flash++)
		put_char(c);
}

static void put_unsigned(uint32_t value, uint8_t least_digits)
{
	char digits[10];
	uint8_t n = 0;
	do {
		digits[n++] = (char)('0' + value % 10);
		value /= 10;
	} while (value || n < least_digits);
	while (n)
		put_char(digits[--n]);
}

/* value / 10^decimals, decimals 1 to 5 */
static void put_decimal(int32_t value, uint8_t decimals)
{
	uint32_t scale = 1;
	uint32_t size = value < 0 ? (uint32_t)-value : (uint32_t)value;
	for (uint8_t i = 0; i < decimals; i++)
		scale *= 10;
	if (value < 0)
		put_char('-');
	put_unsigned(size / scale, 1);
	put_char('.');
	put_unsigned(size % scale, decimals);
}

/* CRC-16/CCITT-FALSE: polynomial 1021, start FFFF, highest bit first, nothing reflected; "123456789" gives 29B1 */
static uint16_t crc16(const char *bytes, uint16_t count)
{
	uint16_t crc = 0xFFFF;
	while (count--) {
		crc ^= (uint16_t)((uint8_t)*bytes++ << 8);
		for (uint8_t bit = 0; bit < 8; bit++)
			crc = (crc & 0x8000) ? (uint16_t)((crc << 1) ^ 0x1021) : (uint16_t)(crc << 1);
	}
	return crc;
}

static void put_checksum(void)
{
	uint16_t crc = crc16(line, length);
	put_char(' ');
	put_char('*');
	for (int8_t shift = 12; shift >= 0; shift -= 4) {
		uint8_t digit = (crc >> shift) & 0xF;
		put_char((char)(digit < 10 ? '0' + digit : 'A' + digit - 10));
	}
}

/* ---- serial line ---- */

static void serial_begin(void)
{
	UCSR0A = _BV(U2X0);
	UBRR0 = (F_CPU + BAUD * 4) / (BAUD * 8) - 1;
	UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
	UCSR0B = _BV(TXEN0);
}

static void serial_send(void)
{
	for (uint16_t i = 0; i < length; i++) {
		loop_until_bit_is_set(UCSR0A, UDRE0);
		UDR0 = (uint8_t)line[i];
	}
}

/* ---- thermocouple amplifier ---- */

static void amplifier_begin(void)
{
	PORTB |= _BV(PB2) | _BV(PB4); /* not selected; MISO pulled up, so that a broken wire reads as ones */
	DDRB |= _BV(PB2) | _BV(PB3) | _BV(PB5);
	SPCR = _BV(SPE) | _BV(MSTR) | _BV(SPR0); /* mode 0, F_CPU / 16 = 1 MHz; the chip allows 5 MHz */
}

static uint32_t amplifier_read(void)
{
	uint32_t word = 0;
	PORTB &= (uint8_t)~_BV(PB2);
	for (uint8_t i = 0; i < 4; i++) {
		SPDR = 0;
		loop_until_bit_is_set(SPSR, SPIF);
		word = (word << 8) | SPDR;
	}
	PORTB |= _BV(PB2);
	return word;
}

/*
 * The word: bits 31-18 thermocouple in quarters of a degree, two's complement; 17 always 0; 16 any fault; 15-4 cold
 * junction in sixteenths of a degree, two's complement; 3 always 0; 2 short to supply; 1 short to ground; 0 open.
 */
static void put_chamber(uint32_t word)
{
	if (word == 0 || (word & 0x00020008UL)) {
		/* Not the chip's doing: it is unpowered, or a wire is off. */
		put_text(PSTR(",{\"n\":\"chamber-fault\",\"vs\":\"range\"}"));
		return;
	}
	int16_t quarters = (int16_t)(word >> 16) >> 2;
	int16_t sixteenths = (int16_t)(word & 0xFFFF) >> 4;
	if (word & 0x1)
		put_text(PSTR(",{\"n\":\"chamber-fault\",\"vs\":\"open\"}"));
	else if (word & 0x2)
		put_text(PSTR(",{\"n\":\"chamber-fault\",\"vs\":\"short-ground\"}"));
	else if (word & 0x4)
		put_text(PSTR(",{\"n\":\"chamber-fault\",\"vs\":\"short-supply\"}"));
	else if (word & 0x00010000UL)
		put_text(PSTR(",{\"n\":\"chamber-fault\",\"vs\":\"range\"}")); /* a fault without a cause */
	else {
		put_text(PSTR(",{\"n\":\"chamber-linear\",\"u\":\"Cel\",\"v\":"));
		put_decimal((int32_t)quarters * 25, 2);
		put_char('}');
	}
	put_text(PSTR(",{\"n\":\"cold-junction\",\"u\":\"Cel\",\"v\":"));
	put_decimal((int32_t)sixteenths * 625, 4);
	put_char('}');
}

/* ---- pressure transducer ---- */

static void transducer_begin(void)
{
	ADMUX = _BV(REFS0); /* AVcc, which also feeds the transducer: the ratio needs no voltage reference */
	ADCSRA = _BV(ADEN) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0); /* F_CPU / 128 = 125 kHz */
	DIDR0 = _BV(ADC0D);
}

/* Output over supply, in 65,536ths. */
static uint32_t transducer_read(void)
{
	uint32_t sum = 0;
	for (uint8_t i = 0; i < CONVERSIONS; i++) {
		ADCSRA |= _BV(ADSC);
		loop_until_bit_is_clear(ADCSRA, ADSC);
		sum += ADC;
	}
	return sum;
}

static void put_gas(uint32_t ratio)
{
	if (ratio < RATIO_LOW)
		put_text(PSTR(",{\"n\":\"gas-fault\",\"vs\":\"short-ground\"}"));
	else if (ratio > RATIO_HIGH)
		put_text(PSTR(",{\"n\":\"gas-fault\",\"vs\":\"short-supply\"}"));
	else {
		put_text(PSTR(",{\"n\":\"gas-ratio\",\"u\":\"/\",\"v\":"));
		/* 100000 / 65536 = 3125 / 2048, and 65,535 x 3,125 fits 32 bits. */
		put_decimal((int32_t)((ratio * 3125 + 1024) >> 11), 5);
		put_char('}');
	}
}

/* ---- ten times a second ---- */

ISR(TIMER1_COMPA_vect)
{
	ticks++;
}

static void timer_begin(void)
{
	TCCR1B = _BV(WGM12) | _BV(CS11) | _BV(CS10); /* F_CPU / 64, cleared on compare */
	OCR1A = F_CPU / 64 / 10 - 1;
	TIMSK1 = _BV(OCIE1A);
}

static void wait_for_tick(void)
{
	cli();
	while (ticks == 0) {
		sleep_enable();
		sei(); /* the instruction after sei runs before any interrupt: no tick is slept through */
		sleep_cpu();
		sleep_disable();
		cli();
	}
	ticks = 0; /* ticks that were missed are not made up for */
	sei();
}

int main(void)
{
	/* After a watchdog reset the watchdog stays on at its shortest time until told otherwise. */
	MCUSR = 0;
	wdt_disable();
	serial_begin();
	amplifier_begin();
	transducer_begin();
	timer_begin();
	set_sleep_mode(SLEEP_MODE_IDLE);
	wdt_enable(WDTO_1S);

	for (uint32_t sequence = 0;; sequence++) {
		wait_for_tick();
		wdt_reset();
		length = 0;
		put_text(PSTR("[{\"bn\":\"" FORGE ":\",\"n\":\"seq\",\"v\":"));
		put_unsigned(sequence, 1);
		put_char('}');
		put_chamber(amplifier_read());
		put_gas(transducer_read());
		put_char(']');
		put_checksum();
		put_char('\n');
		serial_send();
	}
}
