/* SPDX-License-Identifier: MIT */
/*
 * Each of 84 pairs of neighbouring sizes, both ways: 168 jaws on heads.
 *
 * SOURCE   independent computation: another program, in another language and
 *          in binary fractions, over the same published tables
 *          [gbt-4390-1995, iso-4014, asme-b18-2-1, asme-b18-2-2,
 *          machine-screw-nut-tables, machinerys-handbook-31, bs-1083-1965]
 *          and the rules told in src/trade/jaw.h.  Its figures were rounded
 *          to 0.001 mm, 0.01 (share), 0.001 (bites) and 0.1 degree.
 * Not evidence for the widths of BA heads and of 1/8 W, which are from
 * memory in the tables; only the arithmetic is checked there.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>

#include <cmocka.h>

#include "tests/unit/mem_fixture.h"
#include "trade/jaw.h"

#define LENGTH(a) (sizeof(a) / sizeof *(a))

struct row {
	const char *tool, *head;
	int jaw_min_um, jaw_max_um, head_min_um, head_max_um;
	int share, worst, mid, swing;	/* 1/100, 1/1000, 1/1000, 1/10 deg */
	enum km_serve verdict;
};

static const struct row rows[] = {
	{ "5.5 mm", "7/32 AF", 5520, 5620, 5445, 5556, 94, 753, 903, 34, KM_SERVES },
	{ "7/32 AF", "5.5 mm", 5588, 5715, 5320, 5500, 100, 429, 657, 85, KM_SERVE_LOOSE },
	{ "6 mm", "1/4 AF", 6030, 6150, 6121, 6350, 1, 964, 1180, 5, KM_SERVE_TIGHT },
	{ "1/4 AF", "6 mm", 6401, 6528, 5820, 6000, 100, 64, 279, 163, KM_SERVE_ROUNDS },
	{ "7 mm", "9/32 AF", 7030, 7150, 7001, 7144, 62, 836, 981, 22, KM_SERVE_TIGHT },
	{ "9/32 AF", "7 mm", 7188, 7315, 6780, 7000, 100, 393, 596, 91, KM_SERVE_LOOSE },
	{ "8 mm", "5/16 AF", 8030, 8150, 7671, 7925, 100, 519, 712, 69, KM_SERVES },
	{ "5/16 AF", "8 mm", 8026, 8179, 7780, 8000, 100, 606, 793, 56, KM_SERVES },
	{ "9 mm", "11/32 AF", 9030, 9150, 8433, 8738, 100, 346, 548, 100, KM_SERVE_LOOSE },
	{ "11/32 AF", "9 mm", 8814, 8966, 8780, 9000, 50, 837, 1000, 22, KM_SERVE_TIGHT },
	{ "10 mm", "3/8 AF", 10040, 10190, 9195, 9525, 100, 167, 379, 137, KM_SERVE_ROUNDS },
	{ "3/8 AF", "10 mm", 9601, 9754, 9780, 10000, 0, 1021, 1165, 0, KM_SERVE_NOT_ON },
	{ "11 mm", "7/16 AF", 11040, 11190, 10871, 11125, 90, 774, 918, 31, KM_SERVES },
	{ "7/16 AF", "11 mm", 11176, 11328, 10730, 11000, 100, 571, 726, 61, KM_SERVES },
	{ "12 mm", "7/16 AF", 12040, 12240, 10871, 11125, 100, 31, 201, 172, KM_SERVE_ROUNDS },
	{ "7/16 AF", "12 mm", 11176, 11328, 11730, 12000, 0, 1263, 1397, 0, KM_SERVE_NOT_ON },
	{ "12 mm", "1/2 AF", 12040, 12240, 12421, 12700, 0, 1112, 1257, 0, KM_SERVE_NOT_ON },
	{ "1/2 AF", "12 mm", 12802, 12954, 11730, 12000, 100, 197, 343, 130, KM_SERVE_ROUNDS },
	{ "13 mm", "1/2 AF", 13040, 13240, 12421, 12700, 100, 493, 645, 74, KM_SERVES },
	{ "1/2 AF", "13 mm", 12802, 12954, 12730, 13000, 55, 865, 992, 18, KM_SERVE_TIGHT },
	{ "14 mm", "9/16 AF", 14050, 14270, 13995, 14275, 59, 849, 986, 20, KM_SERVE_TIGHT },
	{ "9/16 AF", "14 mm", 14376, 14554, 13730, 14000, 100, 538, 667, 66, KM_SERVES },
	{ "15 mm", "9/16 AF", 15050, 15270, 13995, 14275, 100, 299, 442, 109, KM_SERVE_ROUNDS },
	{ "9/16 AF", "15 mm", 14376, 14554, 14730, 15000, 0, 1092, 1207, 0, KM_SERVE_NOT_ON },
	{ "15 mm", "5/8 AF", 15050, 15270, 15545, 15875, 0, 1136, 1269, 0, KM_SERVE_NOT_ON },
	{ "5/8 AF", "15 mm", 15977, 16154, 14730, 15000, 100, 256, 379, 118, KM_SERVE_ROUNDS },
	{ "16 mm", "5/8 AF", 16050, 16270, 15545, 15875, 100, 641, 780, 50, KM_SERVES },
	{ "5/8 AF", "16 mm", 15977, 16154, 15730, 16000, 99, 792, 903, 28, KM_SERVES },
	{ "17 mm", "11/16 AF", 17050, 17300, 17145, 17475, 15, 930, 1060, 9, KM_SERVE_TIGHT },
	{ "11/16 AF", "17 mm", 17577, 17755, 16730, 17000, 100, 529, 635, 68, KM_SERVES },
	{ "18 mm", "11/16 AF", 18050, 18300, 17145, 17475, 100, 482, 616, 76, KM_SERVE_LOOSE },
	{ "11/16 AF", "18 mm", 17577, 17755, 17730, 18000, 1, 989, 1086, 1, KM_SERVE_TIGHT },
	{ "18 mm", "3/4 AF", 18050, 18300, 18694, 19050, 0, 1162, 1284, 0, KM_SERVE_NOT_ON },
	{ "3/4 AF", "18 mm", 19177, 19380, 17730, 18000, 100, 284, 391, 112, KM_SERVE_ROUNDS },
	{ "19 mm", "3/4 AF", 19060, 19360, 18694, 19050, 100, 726, 862, 37, KM_SERVES },
	{ "3/4 AF", "19 mm", 19177, 19380, 18670, 19000, 100, 707, 819, 40, KM_SERVES },
	{ "20 mm", "3/4 AF", 20060, 20360, 18694, 19050, 100, 315, 455, 106, KM_SERVE_ROUNDS },
	{ "3/4 AF", "20 mm", 19177, 19380, 19670, 20000, 0, 1113, 1216, 0, KM_SERVE_NOT_ON },
	{ "20 mm", "13/16 AF", 20060, 20360, 20269, 20625, 4, 966, 1089, 4, KM_SERVE_TIGHT },
	{ "13/16 AF", "20 mm", 20777, 20980, 19670, 20000, 100, 488, 595, 75, KM_SERVE_LOOSE },
	{ "21 mm", "13/16 AF", 21060, 21360, 20269, 20625, 100, 586, 713, 59, KM_SERVES },
	{ "13/16 AF", "21 mm", 20777, 20980, 20670, 21000, 63, 884, 984, 15, KM_SERVE_TIGHT },
	{ "22 mm", "7/8 AF", 22060, 22360, 21869, 22225, 87, 827, 943, 23, KM_SERVE_TIGHT },
	{ "7/8 AF", "22 mm", 22352, 22555, 21670, 22000, 100, 686, 782, 43, KM_SERVES },
	{ "23 mm", "7/8 AF", 23060, 23360, 21869, 22225, 100, 476, 594, 77, KM_SERVE_LOOSE },
	{ "7/8 AF", "23 mm", 22352, 22555, 22670, 23000, 0, 1039, 1128, 0, KM_SERVE_NOT_ON },
	{ "24 mm", "15/16 AF", 24060, 24360, 23419, 23825, 100, 691, 809, 43, KM_SERVES },
	{ "15/16 AF", "24 mm", 23978, 24206, 23670, 24000, 100, 826, 917, 23, KM_SERVES },
	{ "25 mm", "1 AF", 25060, 25360, 24892, 25400, 63, 855, 980, 19, KM_SERVE_TIGHT },
	{ "1 AF", "25 mm", 25552, 25781, 24670, 25000, 100, 654, 742, 48, KM_SERVES },
	{ "26 mm", "1 AF", 26080, 26480, 24892, 25400, 100, 509, 653, 71, KM_SERVES },
	{ "1 AF", "26 mm", 25552, 25781, 25670, 26000, 8, 967, 1050, 4, KM_SERVE_TIGHT },
	{ "27 mm", "1-1/16 AF", 27080, 27480, 26448, 26987, 100, 700, 838, 41, KM_SERVES },
	{ "1-1/16 AF", "27 mm", 27127, 27356, 26670, 27000, 100, 802, 883, 27, KM_SERVES },
	{ "28 mm", "1-1/8 AF", 28080, 28480, 27940, 28575, 54, 851, 994, 20, KM_SERVE_TIGHT },
	{ "1-1/8 AF", "28 mm", 28753, 29007, 27670, 28000, 100, 628, 711, 52, KM_SERVES },
	{ "30 mm", "1-1/8 AF", 30080, 30480, 27940, 28575, 100, 301, 449, 109, KM_SERVE_ROUNDS },
	{ "1-1/8 AF", "30 mm", 28753, 29007, 29670, 30000, 0, 1172, 1246, 0, KM_SERVE_NOT_ON },
	{ "32 mm", "1-1/4 AF", 32080, 32480, 31115, 31750, 100, 663, 793, 47, KM_SERVES },
	{ "1-1/4 AF", "32 mm", 31928, 32182, 31610, 32000, 97, 861, 940, 18, KM_SERVES },
	{ "36 mm", "1-7/16 AF", 36100, 36600, 35782, 36512, 77, 824, 957, 24, KM_SERVE_TIGHT },
	{ "1-7/16 AF", "36 mm", 36728, 37008, 35380, 36000, 100, 646, 746, 49, KM_SERVES },
	{ "8 mm", "1/8 W 3/16 BS", 8030, 8150, 8458, 8636, 0, 1280, 1411, 0, KM_SERVE_NOT_ON },
	{ "1/8 W 3/16 BS", "8 mm", 8705, 8849, 7780, 8000, 100, -57, 135, 201, KM_SERVE_ROUNDS },
	{ "9 mm", "1/8 W 3/16 BS", 9030, 9150, 8458, 8636, 100, 371, 511, 95, KM_SERVE_LOOSE },
	{ "1/8 W 3/16 BS", "9 mm", 8705, 8849, 8780, 9000, 8, 939, 1098, 8, KM_SERVE_TIGHT },
	{ "11 mm", "3/16 W 1/4 BS", 11040, 11190, 11125, 11303, 8, 955, 1068, 6, KM_SERVE_TIGHT },
	{ "3/16 W 1/4 BS", "11 mm", 11385, 11543, 10730, 11000, 100, 417, 576, 87, KM_SERVE_LOOSE },
	{ "12 mm", "3/16 W 1/4 BS", 12040, 12240, 11125, 11303, 100, 229, 365, 123, KM_SERVE_ROUNDS },
	{ "3/16 W 1/4 BS", "12 mm", 11385, 11543, 11730, 12000, 0, 1123, 1260, 0, KM_SERVE_NOT_ON },
	{ "13 mm", "1/4 W 5/16 BS", 13040, 13240, 13157, 13335, 10, 952, 1062, 6, KM_SERVE_TIGHT },
	{ "1/4 W 5/16 BS", "13 mm", 13427, 13595, 12730, 13000, 100, 477, 614, 77, KM_SERVE_LOOSE },
	{ "14 mm", "1/4 W 5/16 BS", 14050, 14270, 13157, 13335, 100, 349, 469, 99, KM_SERVE_ROUNDS },
	{ "1/4 W 5/16 BS", "14 mm", 13427, 13595, 13730, 14000, 0, 1075, 1196, 0, KM_SERVE_NOT_ON },
	{ "15 mm", "5/16 W 3/8 BS", 15050, 15270, 15037, 15240, 60, 881, 989, 16, KM_SERVE_TIGHT },
	{ "5/16 W 3/8 BS", "15 mm", 15342, 15519, 14730, 15000, 100, 588, 707, 58, KM_SERVES },
	{ "16 mm", "5/16 W 3/8 BS", 16050, 16270, 15037, 15240, 100, 369, 481, 96, KM_SERVE_ROUNDS },
	{ "5/16 W 3/8 BS", "16 mm", 15342, 15519, 15730, 16000, 0, 1103, 1211, 0, KM_SERVE_NOT_ON },
	{ "18 mm", "3/8 W 7/16 BS", 18050, 18300, 17831, 18034, 100, 798, 896, 27, KM_SERVES },
	{ "3/8 W 7/16 BS", "18 mm", 18150, 18341, 17730, 18000, 100, 735, 836, 36, KM_SERVES },
	{ "19 mm", "3/8 W 7/16 BS", 19060, 19360, 17831, 18034, 100, 340, 452, 101, KM_SERVE_ROUNDS },
	{ "3/8 W 7/16 BS", "19 mm", 18150, 18341, 18670, 19000, 0, 1135, 1241, 0, KM_SERVE_NOT_ON },
	{ "21 mm", "7/16 W 1/2 BS", 21060, 21360, 20625, 20828, 100, 726, 821, 38, KM_SERVES },
	{ "7/16 W 1/2 BS", "21 mm", 20958, 21163, 20670, 21000, 99, 816, 917, 25, KM_SERVES },
	{ "23 mm", "1/2 W 9/16 BS", 23060, 23360, 23165, 23368, 31, 935, 1019, 8, KM_SERVE_TIGHT },
	{ "1/2 W 9/16 BS", "23 mm", 23510, 23729, 22670, 23000, 100, 641, 736, 50, KM_SERVES },
	{ "24 mm", "1/2 W 9/16 BS", 24060, 24360, 23165, 23368, 100, 603, 688, 56, KM_SERVES },
	{ "1/2 W 9/16 BS", "24 mm", 23510, 23729, 23670, 24000, 2, 981, 1070, 2, KM_SERVE_TIGHT },
	{ "25 mm", "9/16 W 5/8 BS", 25060, 25360, 25400, 25654, 0, 1012, 1096, 0, KM_SERVE_NOT_ON },
	{ "9/16 W 5/8 BS", "25 mm", 25808, 26038, 24670, 25000, 100, 574, 663, 61, KM_SERVES },
	{ "26 mm", "9/16 W 5/8 BS", 26080, 26480, 25400, 25654, 100, 673, 773, 45, KM_SERVES },
	{ "9/16 W 5/8 BS", "26 mm", 25808, 26038, 25670, 26000, 76, 890, 974, 15, KM_SERVE_TIGHT },
	{ "28 mm", "5/8 W 11/16 BS", 28080, 28480, 27686, 27940, 100, 779, 871, 30, KM_SERVES },
	{ "5/8 W 11/16 BS", "28 mm", 28105, 28346, 27670, 28000, 100, 812, 892, 25, KM_SERVES },
	{ "30 mm", "11/16 W 3/4 BS", 30080, 30480, 30226, 30480, 32, 935, 1019, 8, KM_SERVE_TIGHT },
	{ "11/16 W 3/4 BS", "30 mm", 30658, 30912, 29670, 30000, 100, 678, 755, 45, KM_SERVES },
	{ "34 mm", "3/4 W 7/8 BS", 34100, 34600, 32715, 33020, 100, 557, 653, 63, KM_SERVES },
	{ "3/4 W 7/8 BS", "34 mm", 33210, 33477, 33380, 34000, 3, 978, 1079, 3, KM_SERVE_TIGHT },
	{ "11/32 AF", "1/8 W 3/16 BS", 8814, 8966, 8458, 8636, 100, 538, 691, 66, KM_SERVES },
	{ "1/8 W 3/16 BS", "11/32 AF", 8705, 8849, 8433, 8738, 99, 620, 828, 53, KM_SERVES },
	{ "7/16 AF", "3/16 W 1/4 BS", 11176, 11328, 11125, 11303, 70, 860, 974, 19, KM_SERVE_TIGHT },
	{ "3/16 W 1/4 BS", "7/16 AF", 11385, 11543, 10871, 11125, 100, 525, 674, 69, KM_SERVES },
	{ "1/2 AF", "1/4 W 5/16 BS", 12802, 12954, 13157, 13335, 0, 1119, 1214, 0, KM_SERVE_NOT_ON },
	{ "1/4 W 5/16 BS", "1/2 AF", 13427, 13595, 12421, 12700, 100, 272, 418, 114, KM_SERVE_ROUNDS },
	{ "9/16 AF", "1/4 W 5/16 BS", 14376, 14554, 13157, 13335, 100, 183, 292, 133, KM_SERVE_ROUNDS },
	{ "1/4 W 5/16 BS", "9/16 AF", 13427, 13595, 13995, 14275, 0, 1220, 1340, 0, KM_SERVE_NOT_ON },
	{ "5/8 AF", "5/16 W 3/8 BS", 15977, 16154, 15037, 15240, 100, 428, 529, 85, KM_SERVE_LOOSE },
	{ "5/16 W 3/8 BS", "5/8 AF", 15342, 15519, 15545, 15875, 0, 1013, 1137, 0, KM_SERVE_NOT_ON },
	{ "11/16 AF", "3/8 W 7/16 BS", 17577, 17755, 17831, 18034, 0, 1033, 1114, 0, KM_SERVE_NOT_ON },
	{ "3/8 W 7/16 BS", "11/16 AF", 18150, 18341, 17145, 17475, 100, 463, 584, 79, KM_SERVE_LOOSE },
	{ "3/4 AF", "3/8 W 7/16 BS", 19177, 19380, 17831, 18034, 100, 332, 423, 103, KM_SERVE_ROUNDS },
	{ "3/8 W 7/16 BS", "3/4 AF", 18150, 18341, 18694, 19050, 0, 1145, 1255, 0, KM_SERVE_NOT_ON },
	{ "13/16 AF", "7/16 W 1/2 BS", 20777, 20980, 20625, 20828, 97, 867, 943, 18, KM_SERVES },
	{ "7/16 W 1/2 BS", "13/16 AF", 20958, 21163, 20269, 20625, 100, 661, 769, 47, KM_SERVES },
	{ "7/8 AF", "7/16 W 1/2 BS", 22352, 22555, 20625, 20828, 100, 280, 359, 113, KM_SERVE_ROUNDS },
	{ "7/16 W 1/2 BS", "7/8 AF", 20958, 21163, 21869, 22225, 0, 1248, 1344, 0, KM_SERVE_NOT_ON },
	{ "15/16 AF", "1/2 W 9/16 BS", 23978, 24206, 23165, 23368, 100, 654, 727, 48, KM_SERVES },
	{ "1/2 W 9/16 BS", "15/16 AF", 23510, 23729, 23419, 23825, 49, 898, 1001, 13, KM_SERVE_TIGHT },
	{ "1 AF", "9/16 W 5/8 BS", 25552, 25781, 25400, 25654, 91, 885, 958, 15, KM_SERVES },
	{ "9/16 W 5/8 BS", "1 AF", 25808, 26038, 24892, 25400, 100, 646, 762, 49, KM_SERVES },
	{ "1-1/8 AF", "5/8 W 11/16 BS", 28753, 29007, 27686, 27940, 100, 633, 705, 51, KM_SERVES },
	{ "5/8 W 11/16 BS", "1-1/8 AF", 28105, 28346, 27940, 28575, 45, 888, 1009, 15, KM_SERVE_TIGHT },
	{ "1-5/16 AF", "3/4 W 7/8 BS", 33528, 33807, 32715, 33020, 100, 743, 813, 35, KM_SERVES },
	{ "3/4 W 7/8 BS", "1-5/16 AF", 33210, 33477, 32639, 33325, 96, 802, 916, 27, KM_SERVES },
	{ "1-1/2 AF", "7/8 W 1 BS", 38303, 38608, 37287, 37592, 100, 728, 791, 37, KM_SERVES },
	{ "7/8 W 1 BS", "1-1/2 AF", 37805, 38095, 37313, 38100, 81, 839, 950, 22, KM_SERVE_TIGHT },
	{ "1-11/16 AF", "1 W 1-1/8 BS", 43078, 43383, 41656, 42418, 100, 681, 782, 44, KM_SERVES },
	{ "1 W 1-1/8 BS", "1-11/16 AF", 42655, 42969, 41427, 42875, 95, 714, 879, 39, KM_SERVES },
	{ "10 mm", "0 BA", 10040, 10190, 10363, 10490, 0, 1129, 1230, 0, KM_SERVE_NOT_ON },
	{ "0 BA", "10 mm", 10568, 10722, 9780, 10000, 100, 259, 413, 117, KM_SERVE_ROUNDS },
	{ "11 mm", "0 BA", 11040, 11190, 10363, 10490, 100, 386, 492, 92, KM_SERVE_LOOSE },
	{ "0 BA", "11 mm", 10568, 10722, 10730, 11000, 0, 1006, 1156, 0, KM_SERVE_NOT_ON },
	{ "9 mm", "1 BA", 9030, 9150, 9144, 9271, 0, 995, 1098, 1, KM_SERVE_NOT_ON },
	{ "1 BA", "9 mm", 9343, 9491, 8780, 9000, 100, 377, 544, 94, KM_SERVE_LOOSE },
	{ "8 mm", "2 BA", 8030, 8150, 8103, 8230, 7, 955, 1072, 6, KM_SERVE_TIGHT },
	{ "2 BA", "8 mm", 8296, 8439, 7780, 8000, 100, 349, 534, 99, KM_SERVE_LOOSE },
	{ "9 mm", "2 BA", 9030, 9150, 8103, 8230, 100, 6, 130, 180, KM_SERVE_ROUNDS },
	{ "2 BA", "9 mm", 8296, 8439, 8780, 9000, 0, 1299, 1452, 0, KM_SERVE_NOT_ON },
	{ "7 mm", "3 BA", 7030, 7150, 7036, 7163, 43, 875, 1010, 17, KM_SERVE_TIGHT },
	{ "3 BA", "7 mm", 7224, 7361, 6780, 7000, 100, 340, 550, 101, KM_SERVE_LOOSE },
	{ "6 mm", "4 BA", 6030, 6150, 6172, 6299, 0, 1028, 1180, 0, KM_SERVE_NOT_ON },
	{ "4 BA", "6 mm", 6356, 6489, 5820, 6000, 100, 116, 333, 149, KM_SERVE_ROUNDS },
	{ "7 mm", "4 BA", 7030, 7150, 6172, 6299, 100, -219, -54, 300, KM_SERVE_ROUNDS },
	{ "4 BA", "7 mm", 6356, 6489, 6780, 7000, 0, 1330, 1522, 0, KM_SERVE_NOT_ON },
	{ "5.5 mm", "5 BA", 5520, 5620, 5486, 5588, 77, 813, 954, 25, KM_SERVE_TIGHT },
	{ "5 BA", "5.5 mm", 5641, 5771, 5320, 5500, 100, 348, 579, 100, KM_SERVE_LOOSE },
	{ "6 mm", "5 BA", 6030, 6150, 5486, 5588, 100, 70, 232, 161, KM_SERVE_ROUNDS },
	{ "5 BA", "6 mm", 5641, 5771, 5820, 6000, 0, 1065, 1265, 0, KM_SERVE_NOT_ON },
	{ "5 mm", "6 BA", 5020, 5120, 4801, 4902, 100, 488, 653, 75, KM_SERVE_LOOSE },
	{ "6 BA", "5 mm", 4952, 5078, 4820, 5000, 95, 588, 835, 58, KM_SERVES },
	{ "4 mm", "8 BA", 4020, 4120, 3785, 3861, 100, 318, 502, 105, KM_SERVE_LOOSE },
	{ "8 BA", "4 mm", 3906, 4026, 3820, 4000, 79, 584, 890, 59, KM_SERVE_TIGHT },
	{ "7/16 AF", "0 BA", 11176, 11328, 10363, 10490, 100, 284, 391, 112, KM_SERVE_ROUNDS },
	{ "0 BA", "7/16 AF", 10568, 10722, 10871, 11125, 0, 1105, 1247, 0, KM_SERVE_NOT_ON },
	{ "3/8 AF", "1 BA", 9601, 9754, 9144, 9271, 100, 487, 607, 75, KM_SERVE_LOOSE },
	{ "1 BA", "3/8 AF", 9343, 9491, 9195, 9525, 67, 752, 953, 34, KM_SERVE_TIGHT },
	{ "11/32 AF", "2 BA", 8814, 8966, 8103, 8230, 100, 180, 318, 134, KM_SERVE_ROUNDS },
	{ "2 BA", "11/32 AF", 8296, 8439, 8433, 8738, 0, 994, 1195, 1, KM_SERVE_NOT_ON },
	{ "9/32 AF", "3 BA", 7188, 7315, 7036, 7163, 100, 695, 835, 42, KM_SERVES },
	{ "3 BA", "9/32 AF", 7224, 7361, 7001, 7144, 100, 604, 760, 56, KM_SERVES },
	{ "1/4 AF", "4 BA", 6401, 6528, 6172, 6299, 100, 557, 718, 63, KM_SERVES },
	{ "4 BA", "1/4 AF", 6356, 6489, 6121, 6350, 100, 538, 769, 66, KM_SERVES },
	{ "7/32 AF", "5 BA", 5588, 5715, 5486, 5588, 100, 679, 841, 44, KM_SERVES },
	{ "5 BA", "7/32 AF", 5641, 5771, 5445, 5556, 100, 540, 713, 66, KM_SERVES },
	{ "3/16 AF", "6 BA", 4826, 4953, 4801, 4902, 78, 756, 940, 33, KM_SERVE_TIGHT },
	{ "6 BA", "3/16 AF", 4952, 5078, 4572, 4775, 100, 148, 438, 141, KM_SERVE_ROUNDS },
	{ "5/32 AF", "8 BA", 4013, 4140, 3785, 3861, 100, 277, 489, 113, KM_SERVE_ROUNDS },
	{ "8 BA", "5/32 AF", 3906, 4026, 3810, 3962, 91, 563, 842, 62, KM_SERVES },
};

static struct km_size size(const char *text)
{
	static const struct km_size_rules rules = { .drive = NULL };
	struct km_size s;

	assert_int_equal(km_size_parse(km_slice_of(text), &rules, mem, &s),
			 KM_SIZE_OK);
	return s;
}

/* Does nm round to um?  Three limits are exact ties (26.9875, 36.5125 and
 * 33.2105 mm), which the other program rounds down: both are accepted. */
static void rounds_to(int64_t nm, int um)
{
	int64_t off = nm - (int64_t)um * 1000;

	assert_in_range(off + 500, 0, 1000);
}

static int hundredths(struct km_rational r)
{
	int64_t v;

	assert_true(km_mul_div(r.num, 100, r.den, &v));
	return (int)v;
}

static void every_figure_of_every_pair_agrees(void **state)
{
	(void)state;
	for (size_t i = 0; i < LENGTH(rows); i++) {
		const struct row *r = &rows[i];
		struct km_size tool = size(r->tool), head = size(r->head);
		struct km_fit f = km_fit_size(&tool, &head);

		rounds_to(tool.opening.min_nm, r->jaw_min_um);
		rounds_to(tool.opening.max_nm, r->jaw_max_um);
		rounds_to(head.head.min_nm, r->head_min_um);
		rounds_to(head.head.max_nm, r->head_max_um);
		assert_int_equal(hundredths(f.share), r->share);
		assert_int_equal(f.worst_thousandths, r->worst);
		assert_int_equal(f.mid_thousandths, r->mid);
		assert_int_equal(f.swing_tenths, r->swing);
		assert_int_equal(f.verdict, r->verdict);
	}
}

/* The pairs that serve both ways, and no others. */
static void the_pairs_that_serve_both_ways_are_these(void **state)
{
	static const char *const both[][2] = {
		{ "8 mm", "5/16 AF" },
		{ "11 mm", "7/16 AF" },
		{ "16 mm", "5/8 AF" },
		{ "19 mm", "3/4 AF" },
		{ "24 mm", "15/16 AF" },
		{ "27 mm", "1-1/16 AF" },
		{ "32 mm", "1-1/4 AF" },
		{ "18 mm", "3/8 W 7/16 BS" },
		{ "21 mm", "7/16 W 1/2 BS" },
		{ "28 mm", "5/8 W 11/16 BS" },
		{ "11/32 AF", "1/8 W 3/16 BS" },
		{ "13/16 AF", "7/16 W 1/2 BS" },
		{ "1 AF", "9/16 W 5/8 BS" },
		{ "1-5/16 AF", "3/4 W 7/8 BS" },
		{ "1-11/16 AF", "1 W 1-1/8 BS" },
		{ "9/32 AF", "3 BA" },
		{ "1/4 AF", "4 BA" },
		{ "7/32 AF", "5 BA" },
	};
	size_t n = 0;

	(void)state;
	for (size_t i = 0; i < LENGTH(rows); i += 2) {
		struct km_size a = size(rows[i].tool), b = size(rows[i].head);

		if (!km_serves_both_ways(&a, &b))
			continue;
		assert_true(n < LENGTH(both));
		assert_string_equal(rows[i].tool, both[n][0]);
		assert_string_equal(rows[i].head, both[n][1]);
		n++;
	}
	assert_int_equal(n, LENGTH(both));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_figure_of_every_pair_agrees),
		cmocka_unit_test(the_pairs_that_serve_both_ways_are_these),
	};

	return cmocka_run_group_tests(tests, set_up, tear_down);
}
